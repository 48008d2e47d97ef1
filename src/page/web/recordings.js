// What was measured at the seats, over what is predicted there. The files stay on this device.
const curves = new Map();  // the texts of dropped tables by their names
const curveFiles = () => Object.fromEntries(curves);
const baseName = path => String(path ?? '').split(/[\\/]/).pop();
const measuredOutput = element('div', {id: 'measured-output'});

async function addCurve(file) {
  if (file.size > mostBytes) return tell(`${file.name} is larger than 4 MB: export fewer points.`);
  curves.set(file.name, await file.text());
  const known = tablesAt('recording').some(r => baseName(r.curve) === file.name) || baseName(valueAt('microphone.calibration')) === file.name;
  if (!known) {
    const seat = tablesAt('seat')[0]?.name;
    if (!tablesAt('sub').length) return tell(`${file.name} is here, but the room file has no box that played: ask for the plan and put it in, then drop the curve again.`);
    await edit([{path: 'recording', add: [`curve = ${JSON.stringify(file.name)}`, ...typeof seat === 'string' ? [`seat = ${JSON.stringify(seat)}`] : ['at = ["2 m", "2 m", "1.1 m"]']]}]);
  } else {
    for (const f of state.listeners) f();
  }
  tell(`${file.name} is here. Say below at which seat it was measured.`);
  await compareMeasured();
}

// One thing at a time of what was measured: what it says on its way, and a way to stop it.
async function askMeasured(command, words) {
  const said = element('p', {textContent: words}), share = element('progress', {max: 1, value: 0, 'aria-label': 'How much is done'});
  said.setAttribute('role', 'status');
  if (measurer.busy()) measurer.stop();
  revokeLinks(measuredOutput);
  measuredOutput.replaceChildren(said, element('div', {className: 'bar'}, button('Stop', () => measurer.stop()), share));
  const reply = await measurer.ask({command, text: state.text, units: state.units, narrow: narrowPage.matches, files: curveFiles()}, (phase, done) => { said.textContent = `${words} ${phase}`; share.value = done; });
  if (reply.status !== 0 && said.isConnected) measuredOutput.replaceChildren(element('p', {className: 'fault', textContent: faultWords(reply)}));
  return reply;
}

// Paragraphs, then the pictures of a reply.
function showMeasured(reply, words, ...rest) {
  const missing = reply.answer.warnings.filter(w => tablesAt('recording').some(r => w.startsWith(String(r.curve ?? r.sound))));
  measuredOutput.replaceChildren(...[...words, ...missing].filter(Boolean).map(textContent => element('p', {textContent})), ...rest.filter(Boolean));
  for (const [name, svg] of Object.entries(reply.files)) {
    if (!name.endsWith('.svg')) continue;
    const chart = element('div', {className: 'chart-picture'});
    chart.innerHTML = svg.replaceAll('id="title"', `id="${name}"`).replaceAll('="title"', `="${name}"`);
    measuredOutput.append(chart);
  }
}

async function compareMeasured() {
  if (state.faults.length) return;
  const reply = await askMeasured('listen', 'Working out what is predicted.');
  if (reply.status === 0) showMeasured(reply, [reply.words]);
}

// The fit: how long it takes first, which this device finds out by a few looks at the room.
const longestFit = 60;  // [s]
const timeWords = seconds => seconds < 90 ? `${Math.ceil(seconds / 5) * 5} seconds` : `${Math.ceil(seconds / 60)} minutes`;
async function correctModel() {
  if (state.faults.length) return;
  const text = state.text, time = await askMeasured('fit_time', 'Finding out how long it takes.');
  if (time.status !== 0) return;
  const about = time.seconds === null ? 'In a room that is no rectangle it takes many minutes here.' : `It takes about ${timeWords(time.seconds)} on this device.`;
  if (time.seconds === null || time.seconds > longestFit)
    return measuredOutput.replaceChildren(element('p', {textContent: `${about} Save the room file beside the tables and let the program do it: boxroom fit.`}));
  const reply = await askMeasured('fit', about);
  if (reply.status !== 0) return;
  const use = button('Use the corrected room', async () => {
    if (state.text !== text) return tell('The room has changed since it was corrected: correct it again.');
    await setText(reply.files['fitted.toml']);
    tell('The corrected room is the room of this page now; Undo takes it back.');
    await compareMeasured();
  });
  const table = markup => { const place = element('div'); place.innerHTML = markup; return place; };
  showMeasured(reply, reply.words, element('div', {className: 'bar'}, use, download('fit.html', reply.files['fit.html'], 'text/html')), table(reply.misfits));
  measuredOutput.append(element('details', {className: 'more'}, element('summary', {textContent: 'What the tables tell of the room'}), table(reply.parameters)));
}

function measured() {
  const all = tablesAt('recording'), names = key => tablesAt(key).map(t => t.name).filter(n => typeof n === 'string');
  const file = element('input', {type: 'file', accept: '.csv,text/csv', multiple: true, hidden: true});
  file.addEventListener('change', async () => { for (const one of file.files) await addCurve(one); });
  return group('What you measured', element('p', {className: 'hint', textContent: 'Drop a table of a level at a seat (CSV: frequency_hz,level_db) anywhere on this page. Recorded sweeps are read by the program: boxroom listen and boxroom fit.'}),
    ...all.map((r, n) => {
      const name = String(r.curve ?? r.sound ?? `recording ${n + 1}`), here = r.curve && curves.has(baseName(r.curve));
      return element('div', {className: 'row'}, element('p', {className: 'hint', textContent: here ? name : `${name}: ${r.sound ? 'a recorded sweep, which boxroom listen reads' : 'not here yet, drop it'}`}),
        fields(field('Measured at', `recording[${n}].seat`, 'word', {choices: names('seat'), empty: 'no seat'}), names('sub').length > 1 && field('What played', `recording[${n}].sub`, 'word', {choices: names('sub'), empty: 'all together'})),
        takeAway('recording', n, name));
    }),
    file, element('div', {className: 'bar'}, button('Open a table', () => file.click()), ...all.some(r => curves.has(baseName(r.curve))) ? [button('Show it beside the prediction', compareMeasured), button('Correct the model by these', correctModel)] : []), all.length ? measuredOutput : null);
}

// On a telephone the floor stands among the fields, behind the walls; on a screen beside them.
const oneColumn = matchMedia('(max-width: 59.99rem)');
const placeFloor = () => { (oneColumn.matches ? $('floor-place') : document.querySelector('#tool .beside')).append($('floor-part')); };
oneColumn.addEventListener('change', placeFloor);
placeFloor();
