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

async function compareMeasured() {
  if (state.faults.length) return;
  const stop = button('Stop', () => planner.stop()), said = element('p', {textContent: 'Working out what is predicted.'});
  said.setAttribute('role', 'status');
  measuredOutput.replaceChildren(said, stop);
  const reply = await planner.ask({command: 'listen', text: state.text, units: state.units, narrow: narrowPage.matches, files: curveFiles()}, phase => { said.textContent = phase; });
  if (reply.status !== 0) return measuredOutput.replaceChildren(element('p', {className: 'fault', textContent: faultWords(reply)}));
  const missing = reply.answer.warnings.filter(w => tablesAt('recording').some(r => w.startsWith(String(r.curve ?? r.sound))));
  measuredOutput.replaceChildren(...[reply.words, ...missing].filter(Boolean).map(words => element('p', {textContent: words})));
  for (const [name, svg] of Object.entries(reply.files)) {
    const chart = element('div', {className: 'chart-picture'});
    chart.innerHTML = svg.replaceAll('id="title"', `id="${name}"`).replaceAll('="title"', `="${name}"`);
    measuredOutput.append(chart);
  }
}

function measured() {
  const all = tablesAt('recording'), names = key => tablesAt(key).map(t => t.name).filter(n => typeof n === 'string');
  const file = element('input', {type: 'file', accept: '.csv,text/csv', multiple: true, hidden: true});
  file.addEventListener('change', async () => { for (const one of file.files) await addCurve(one); });
  return group('What you measured', element('p', {className: 'hint', textContent: 'Drop a table of a level at a seat (CSV: frequency_hz,level_db) anywhere on this page. To correct the model by it takes minutes: boxroom fit does that.'}),
    ...all.map((r, n) => {
      const name = String(r.curve ?? r.sound ?? `recording ${n + 1}`), here = r.curve && curves.has(baseName(r.curve));
      return element('div', {className: 'row'}, element('p', {className: 'hint', textContent: here ? name : `${name}: ${r.sound ? 'a recorded sweep, which boxroom listen reads' : 'not here yet, drop it'}`}),
        fields(field('Measured at', `recording[${n}].seat`, 'word', {choices: names('seat'), empty: 'no seat'}), names('sub').length > 1 && field('What played', `recording[${n}].sub`, 'word', {choices: names('sub'), empty: 'all together'})),
        takeAway('recording', n, name));
    }),
    file, element('div', {className: 'bar'}, button('Open a table', () => file.click()), all.some(r => curves.has(baseName(r.curve))) && button('Show it beside the prediction', compareMeasured)), all.length ? measuredOutput : null);
}

// On a telephone the floor stands among the fields, behind the walls; on a screen beside them.
const oneColumn = matchMedia('(max-width: 59.99rem)');
const placeFloor = () => { (oneColumn.matches ? $('floor-place') : document.querySelector('#tool .beside')).append($('floor-part')); };
oneColumn.addEventListener('change', placeFloor);
placeFloor();
