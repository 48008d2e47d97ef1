// What was found goes back into the program.
const wallText = (wall, i) => {
  const own = state.walls[i], soft = state.softness;
  if (own === null && soft === 1) return wall.toml;
  if (soft === 1) return typeof own === 'string' ? `"${own}"` : `{ absorption = ${own} }`;
  return '[' + engine.wall(i).map(([r, m, k]) =>
    `{ resistance = ${r}, mass = ${m}, stiffness = ${k} }`).join(', ') + ']';
};
const roomFile = () => {
  const value = part => {
    const [kind, index] = part.split(' ');
    if (kind === 'volume') return String(state.volume);
    if (kind === 'filling') return String(state.filling);
    if (kind === 'facing') return `"${data.facings[state.facing]}"`;
    if (kind === 'sub') return `[${lastAnswer.centre.join(', ')}]`;
    if (kind === 'seat') return `[${state.seats[index].join(', ')}]`;
    return wallText(data.walls[index], index);
  };
  const {text, parts} = data.file;
  return parts.reduce((out, part, i) => out + value(part) + text[i + 1], text[0]);
};
const copyFile = async () => {
  const details = byId('live-file'), area = details.querySelector('textarea');
  area.value = roomFile();
  details.hidden = false;
  details.open = true;
  try {
    await navigator.clipboard.writeText(area.value);
    say('The room file is copied: save it as my.toml and run boxroom listen my.toml or plan my.toml.');
  } catch {
    area.select();
    say('The room file stands below, selected, ready to be copied.');
  }
};
