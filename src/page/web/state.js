// The room file's text is the state. Fields and floor change it through the engine, which keeps every
// other byte; each text is looked at and checked, and then shown.
const $ = id => document.getElementById(id);
const state = {text: '', look: null, faults: [], floor: null, past: [], units: document.documentElement.dataset.units || 'metric', listeners: [], turn: 0};
const onChange = f => state.listeners.push(f);
// What is wrong, or why nothing came of it.
const faultWords = reply => reply.faults ? reply.faults.map(f => `${f.line ? `line ${f.line}: ` : f.where ? `${f.where}: ` : ''}${f.what}: ${f.mend}.`).join(' ') : reply.trouble;
const tell = sentence => { $('note').textContent = [sentence, shelf.refused].filter(Boolean).join(' '); };

// The last rooms, where the browser keeps anything: in a private window it may refuse.
const shelf = {
  key: 'boxroom rooms',
  all() {
    try { return JSON.parse(localStorage.getItem(this.key)) || []; } catch { return []; }
  },
  keep(title, text) {
    const rooms = [{title, text}, ...this.all().filter(room => room.title !== title)].slice(0, 8);
    try {
      localStorage.setItem(this.key, JSON.stringify(rooms));
    } catch {
      if (this.refused) return;
      this.refused = 'This browser keeps nothing of this page: save the room file before you close it.';
      tell($('note').textContent);
    }
  }
};

async function show(text) {
  const turn = ++state.turn;
  state.text = text;
  const look = await quick.ask({command: 'look', text});
  const check = look.status === 0 ? await quick.ask({command: 'check', text, units: state.units}) : look;
  if (turn !== state.turn) return;  // something newer is on its way
  if (look.status === 0) state.look = look;
  state.faults = check.faults || (check.trouble ? [{what: check.trouble, mend: ''}] : []);
  if (check.floor) state.floor = check.floor;
  if (check.status === 0) shelf.keep(check.answer.title, text);
  for (const f of state.listeners) f();
}

async function setText(text) {
  if (text === state.text) return;
  state.past.push(state.text);
  if (state.past.length > 200) state.past.shift();
  await show(text);
}

async function edit(edits) {
  const made = await quick.ask({command: 'edit', text: state.text, edits});
  if (made.status === 0) return setText(made.text);
  tell(faultWords(made));
}

async function undo() {
  const text = state.past.pop();
  if (text !== undefined) await show(text);
}

// "seat[0].at[1]" in the document.
const valueAt = path => path.split(/[.[\]]+/).filter(Boolean).reduce((at, key) => at?.[key], state.look?.document);
