// Who answers as things are moved: the engine here, or, in a room that must be learnt, one beside the page: the
// room is learnt by the worker's, which draws the map, and handed on.
const answersHere = async () => {
  const open = async () => openEngine(await engineModule(), data);
  let own = await open();
  return {
    answer: now => own.answer(now), walls: () => own.walls(), stop() {},
    async renew() { own = await open(); }
  };
};
const learnShare = share => {
  const done = `${Math.round(100 * share)} %`;
  if (lastAnswer) byId('live-draft').textContent = `The numbers are a draft, two decibels off at most: learning the room as it is now, ${done}.`;
  else status.textContent = `Getting ready to be moved: learning the room, ${done}. Until then all can be read.`;
};
const learnt = async (to, now, before) => {
  const taken = before && (await worker.ask('take', now, before)).found;
  const found = taken ? before : (await worker.ask('learn', now)).found;
  if (!found || !(await to.ask('take', now, found)).found) throw new Error('this device could not learn the room');
};
const answersBeside = async () => {
  const own = await engineBeside();
  let walls = [];
  await learnt(own, copy(state), given);  // by the plan that was made in this page, where there is one
  return {
    async answer(now) {
      const {found} = await own.ask('answer', now);
      if (!found) throw new Error('not to be worked out');
      if (now.softness !== 1) walls = (await own.ask('walls')).found;
      return found;
    },
    walls: () => walls,
    take: now => learnt(own, now), stop: own.stop, async renew() {}
  };
};
// Seats or walls as they were not learnt: when all is at rest.
const learnAnew = async () => {
  busy = true;
  learnShare(0);
  try {
    await engine.take(copy(state));
  } catch (error) {
    say(`The numbers stay a draft: ${error.message}.`);
    return;
  } finally {
    byId('live-draft').textContent = '';
    busy = false;
  }
  redraw();
};
