// What is looked up rather than read is folded on a screen; on paper all of it stands open.
const foldParts = root => {
  const parts = [...root.querySelectorAll('details.part')];
  const everything = root.querySelector('#everything');
  const say = () => {
    if (everything)
      everything.textContent = parts.every(part => part.open) ? 'Fold the details' : 'Open all details';
  };
  for (const part of parts) {
    part.open = false;
    part.addEventListener('toggle', say);
  }
  if (everything) {
    everything.hidden = false;
    everything.addEventListener('click', () => {
      const open = !parts.every(part => part.open);
      for (const part of parts) part.open = open;
    });
  }
  let folded = [];
  addEventListener('beforeprint', () => {
    folded = parts.filter(part => !part.open);
    for (const part of folded) part.open = true;
  });
  addEventListener('afterprint', () => { for (const part of folded) part.open = false; });
  say();
};
foldParts(document);
