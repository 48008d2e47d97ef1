// plan: progress, stop, and the report, which is the program's own.
let links = [];
const download = (name, text, type) => {
  const url = URL.createObjectURL(new Blob([text], {type}));
  links.push(url);
  return element('a', {className: 'file', href: url, download: name, textContent: name});
};

async function plan() {
  const text = state.text;
  $('plan').hidden = true, $('stop').hidden = false, $('share').hidden = false, $('share').value = 0;
  $('doing').textContent = 'Beginning';
  const reply = await planner.ask({command: 'plan', text, units: state.units}, (phase, share) => {
    $('share').value = share;
    $('doing').textContent = phase;
  });
  $('plan').hidden = false, $('stop').hidden = true, $('share').hidden = true;
  $('plan').focus();
  $('doing').textContent = reply.status === 0 ? 'Done: the answer stands below.' : faultWords(reply);
  if (reply.status !== 0) return reply;
  for (const url of links.splice(0)) URL.revokeObjectURL(url);
  const {files, answer} = reply;
  $('sentence').textContent = answer.recommendation;
  $('downloads').replaceChildren(
    button('Put it into the room file', async () => { await setText(files['planned.toml']); tell('The plan stands in the room file now; Undo takes it out.'); }),
    button('Print the report', () => $('report').contentWindow.print()),
    download('planned.toml', files['planned.toml'], 'text/plain'), download('report.html', files['report.html'], 'text/html'),
    download('setup.html', files['setup.html'], 'text/html'),
    files['cut_list.csv'] && download('cut_list.csv', files['cut_list.csv'], 'text/csv'));
  $('answer').hidden = false;
  $('report').onload = () => {
    const inside = $('report').contentDocument;
    if (inside) $('report').style.height = `${inside.documentElement.scrollHeight + 20}px`;
  };
  $('report').srcdoc = files['report.html'];
  $('answer').scrollIntoView({block: 'start'});
  return reply;
}
$('plan').addEventListener('click', plan);
$('stop').addEventListener('click', () => planner.stop());
