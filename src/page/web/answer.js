// The answer in the page: the one it came with, or the last plan made here. It is what the program
// writes, and each answer comes alive by itself (src/report/page).
let endAnswer = liveAnswer();
function showAnswer(written, learnt) {
  const fresh = new DOMParser().parseFromString(written, 'text/html');
  endAnswer?.();
  document.documentElement.dataset.units = fresh.documentElement.dataset.units;
  document.title = fresh.title;
  $('report').replaceWith(document.adoptNode(fresh.getElementById('report')));
  charts = readCharts($('report'));
  foldParts($('report'));
  endAnswer = liveAnswer(learnt);
}

// plan: progress, stop, and the report, which is the program's own.
const download = (name, text, type) => element('a', {className: 'file', href: URL.createObjectURL(new Blob([text], {type})), download: name, textContent: name});
const revokeLinks = place => { for (const a of place.querySelectorAll('a.file')) URL.revokeObjectURL(a.href); };

// The room that the answer below is of, and the file that it makes of it.
let answerOf = [document.getElementById('room-file')?.textContent];
onChange(() => {
  if (!$('stop').hidden) return;
  const old = answerOf[0] !== undefined && !answerOf.includes(state.text);
  $('doing').textContent = old ? 'The answer below is of the room before your change: plan again.' : '';
});

async function plan() {
  const text = state.text;
  $('plan').hidden = true, $('stop').hidden = false, $('share').hidden = false, $('share').value = 0;
  $('doing').textContent = 'Beginning';
  const reply = await planner.ask({command: 'plan', text, units: state.units, files: curveFiles()}, (phase, share) => {
    $('share').value = share;
    $('doing').textContent = phase;
  });
  $('plan').hidden = false, $('stop').hidden = true, $('share').hidden = true;
  $('plan').focus();
  $('doing').textContent = reply.status === 0 ? 'Done: the answer stands below.' : faultWords(reply);
  if (reply.status !== 0) return reply;
  revokeLinks($('downloads'));
  const {files} = reply, report = files['report.html'];
  showAnswer(report, reply.learnt);
  answerOf = [text, files['planned.toml']];
  $('downloads').replaceChildren(
    button('Put it into the room file', async () => { await setText(files['planned.toml']); tell('The plan stands in the room file now; Undo takes it out.'); }),
    button('Print the answer', () => print()),
    download('planned.toml', files['planned.toml'], 'text/plain'),
    download('report.html', report.replace('id="engine">@engine@', start => start.replace('@engine@', packedEngine)), 'text/html'),
    download('setup.html', files['setup.html'], 'text/html'),
    files['cut_list.csv'] && download('cut_list.csv', files['cut_list.csv'], 'text/csv'),
    ...Object.keys(files).filter(name => name.endsWith('.svg')).map(name => download(name, files[name], 'image/svg+xml')));
  $('downloads').hidden = false;
  $('report').scrollIntoView({block: 'start'});
  return reply;
}
$('plan').addEventListener('click', plan);
$('stop').addEventListener('click', () => planner.stop());
