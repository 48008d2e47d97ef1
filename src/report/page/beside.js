// An engine beside the page: what it is asked by name is answered in turn, null where it cannot be worked out.
const engineBeside = async told => {
  const module = await engineModule();
  const able = async (ready, call, given) => {
    const start = performance.now();
    let found = null;
    try {
      found = (await ready)[call](...given);
    } catch { /* what was there remains */ }
    return {found, millis: performance.now() - start};
  };
  let waiting = [], ask, stop = () => {};
  const got = answer => waiting.shift()(answer);
  try {
    const code = `'use strict'; const openModule = ${openModule};
      const openEngine = ${openEngine};
      const able = ${able};
      let module, about, ready;
      const open = () => { ready = openEngine(module, about, share => postMessage({share})); };
      onmessage = async ({data: m}) => {
        if (m.module) { ({module, about} = m); open(); return; }
        const answer = await able(ready, m.call, m.given);
        if (answer.found === null && !about.learns) open();  // it may be broken
        postMessage(answer, answer.found instanceof Uint8Array ? [answer.found.buffer] : []);
      };`;
    const other = new Worker(URL.createObjectURL(new Blob([code], {type: 'text/javascript'})));
    other.onmessage = ({data: m}) => m.share === undefined ? got(m) : told?.(m.share);
    other.postMessage({module, about: data});
    ask = (call, given) => other.postMessage({call, given});
    stop = () => other.terminate();
  } catch {  // no workers here: between two drags, then
    let ready = openEngine(module, data);
    ask = (call, given) => setTimeout(async () => {
      const answer = await able(ready, call, given);
      if (answer.found === null && !data.learns) ready = openEngine(module, data);
      got(answer);
    }, 300);
  }
  return {
    ask: (call, ...given) => new Promise(settle => { waiting.push(settle), ask(call, given); }),
    stop
  };
};
