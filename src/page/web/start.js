// What the page begins with, and what programs may ask of it.
const say = async (command, text, wishes = {}, part = 'answer') => {
  const reply = await ({plan: planner, fit: measurer}[command] || quick).ask({command, text, ...wishes});
  if (reply.status === 0) return reply[part];
  const error = new Error(faultWords(reply));
  error.faults = reply.faults || [];
  throw error;
};
window.boxroom = {
  plan: (text, wishes) => say('plan', text, wishes), check: (text, wishes) => say('check', text, wishes),
  listen: (text, wishes) => say('listen', text, wishes), build: (text, wishes) => say('build', text, wishes),
  fit: (text, files, wishes) => say('fit', text, {...wishes, files}),
  files: (command, text, wishes) => say(command, text, wishes, 'files')
};

async function open(text, why) {
  await setText(text);
  if (why) tell(why);
}
const mostBytes = 4e6;
async function openFile(file) {
  if (!file) return;
  if (/\.csv$/i.test(file.name)) return addCurve(file);
  if (file.size > mostBytes) return tell(`${file.name} is larger than any room file: 4 MB is the most.`);
  const text = await file.text();
  await open(text, `${file.name} is open. Nothing has been changed in it.`);
}
$('open').addEventListener('click', () => $('file').click());
$('file').addEventListener('change', () => { openFile($('file').files[0]); $('file').value = ''; });
addEventListener('dragover', event => event.preventDefault());
addEventListener('drop', event => { event.preventDefault(); (async () => { for (const file of event.dataTransfer.files) await openFile(file); })(); });
$('save').addEventListener('click', () => {
  const name = `${(String(valueAt('title') || 'room')).toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-|-$/g, '') || 'room'}.toml`;
  const link = download(name, state.text, 'text/plain');
  link.click();
  tell(`Saved as ${name}, where this browser keeps what it downloads.`);
});
$('undo').addEventListener('click', undo);
addEventListener('keydown', event => {
  if ((event.ctrlKey || event.metaKey) && event.key === 'z' && $('tool').contains(document.activeElement) && !/INPUT|TEXTAREA/.test(document.activeElement.tagName)) { event.preventDefault(); undo(); }
});
let writing = null;
$('text').addEventListener('input', () => { clearTimeout(writing); writing = setTimeout(() => setText($('text').value), 500); });
$('rooms').addEventListener('change', async () => {
  const choice = $('rooms').value;
  if (choice === 'metric' || choice === 'imperial') {
    state.units = choice;
    await open((await quick.ask({command: 'start', units: choice})).text);
  } else if (choice) {
    await open(shelf.all()[Number(choice)].text);
  }
  $('rooms').value = '';
});
const showRooms = () => $('rooms').replaceChildren(element('option', {value: '', textContent: 'choose'}),
  element('option', {value: 'metric', textContent: 'a new one, in metres'}), element('option', {value: 'imperial', textContent: 'a new one, in feet'}),
  ...shelf.all().map((room, n) => element('option', {value: n, textContent: room.title})));

onChange(showForm), onChange(showFloor), onChange(showRooms);
onChange(() => showBox());
const begin = async answered => {
  $('tool').hidden = false;
  tell('The engine starts.');
  state.names = await quick.ask({command: 'names'});
  if (state.names.status !== 0) return tell(state.names.trouble);
  if (answered !== undefined) {
    await show(answered);
    return tell('This is the room of the answer below: change what you want to change, then plan again.');
  }
  const kept = shelf.all()[0];
  const first = kept ? kept.text : (await quick.ask({command: 'start', units: state.units})).text;
  await show(first);
  tell(kept ? `This is the room you had here last: ${kept.title}.` : 'This is a sample room: change what stands in it to yours, then ask for the plan.');
};
// Two doors: an empty page asks for the room, one with an answer in it shows that first.
const answered = document.getElementById('room-file')?.textContent;
if (answered === undefined) begin();
else $('again').hidden = false;
$('again').addEventListener('click', () => {
  $('again').hidden = true;
  begin(answered).then(() => $('form').querySelector('input')?.focus());
  $('tool').scrollIntoView({block: 'start'});
});
