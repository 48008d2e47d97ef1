// What was found goes back into the program: the user's own text with what has changed.
const trimmed = (value, decimals) => {
  const text = value.toFixed(decimals).replace(/(\.\d*?)0+$/, '$1').replace(/\.$/, '');
  return text === '-0' ? '0' : text;
};
// A number in the unit that stands in the file, as format_quantity (src/base/units) writes it.
const written = (slot, value) => {
  const {unit, factor, inches, decimals} = slot;
  if (!unit) return trimmed(value, decimals);
  if (!inches) return JSON.stringify(`${trimmed(value / factor, decimals)} ${unit}`);
  const step = 10 ** -decimals, total = Math.round(Math.abs(value) / 0.0254 / step) * step;
  const feet = Math.floor((total + step / 2) / 12), left = Math.abs(total - 12 * feet);
  const parts = [feet ? feet + ' ft' : '',
                 !feet || left > step / 2 ? trimmed(left, decimals) + ' in' : ''];
  return JSON.stringify((value < 0 && total > 0 ? '-' : '') + parts.filter(Boolean).join(' '));
};
const sixDigits = value => trimmed(value, Math.max(0, 5 - Math.floor(Math.log10(value || 1))));
// The TOML of a slot, or null: nothing has changed.
const wallText = i => {
  const own = state.walls[i], part = state.parts[i];
  if (state.softness !== 1)
    return '[' + engine.walls()[i].map(branch => branch.map(sixDigits)).map(([r, m, k]) =>
      `{ resistance = ${r}, mass = ${m}, stiffness = ${k} }`).join(', ') + ']';
  if (own === null && !part) return null;
  const all = typeof own === 'number' ? `{ absorption = ${sixDigits(own)} }` : JSON.stringify(own ?? data.walls[i].made);
  return part ? `[${all}, { made_of = ${JSON.stringify(part.name)}, area = ${sixDigits(part.area)} }]` : all;
};
const slotText = slot => {
  const [kind, index, axis] = slot.name.split(' ');
  if (kind === 'wall') return wallText(+index);
  const sub = state.subs[index];
  if (kind === 'facing' || kind === 'polarity') {
    const now = kind === 'facing' ? data.facings[lastAnswer.subs[index].facing] : sub.polarity < 0 ? '-' : '+';
    return now === slot.word ? null : JSON.stringify(now);
  }
  const value = kind === 'seat' ? state.seats[index][axis] : kind in state ? state[kind] : sub[kind];
  const now = written(slot, value);
  return slot.value !== null && written(slot, slot.value) === now ? null : now;
};
const pieceText = ({was, head, between, tail, slots}) => {
  const changed = slots.map(slot => [slot.key, slotText(slot)]).filter(([, text]) => text !== null);
  return changed.length ? head + changed.map(([key, text]) => key + text).join(between) + tail : was;
};
const roomFile = () =>
  data.file.map(piece => typeof piece === 'string' ? piece : pieceText(piece)).join('');
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
