// The box alone, where a builder begins: one slider, several boxes over each other.
const volumeOf = share => 2e-3 * 150 ** share;  // 2 to 300 litres [m3]
const shareOf = volume => Math.log(volume / 2e-3) / Math.log(150);
const volumeWords = v => state.units === 'imperial' ? `${(v / 0.028316846592).toFixed(2)} ft3` : `${(v * 1e3).toFixed(v < 0.02 ? 1 : 0)} L`;
const narrowPage = matchMedia('(max-width: 40rem)');

// The box of {volume_m3} or {wanted_qtc}, or the file's.
async function showBox(wanted = {}) {
  if (state.faults.length) return null;
  const turn = (showBox.turn = (showBox.turn || 0) + 1);
  const reply = await quick.ask({command: 'box', text: state.text, units: state.units, narrow: narrowPage.matches, ...wanted});
  if (turn !== showBox.turn) return null;
  if (reply.status !== 0) {
    $('box-words').textContent = faultWords(reply);
    return null;
  }
  const box = reply.answer.boxes[0], words = volumeWords(box.volume_l / 1e3);
  if (wanted.volume_m3 === undefined) $('volume').value = shareOf(box.volume_l / 1e3);
  if (document.activeElement !== $('wanted-qtc')) $('wanted-qtc').value = box.qtc.toFixed(2);
  $('volume-now').textContent = words;
  $('volume').setAttribute('aria-valuetext', words);
  $('box-words').textContent = `Qtc ${box.qtc.toFixed(2)}: ${box.verdict}. F3 ${box.f3_hz.toFixed(0)} Hz on an endless floor; the room changes that.`;
  $('box-curve').innerHTML = reply.files['response.svg'].replace(/<\?xml[^>]*\?>/, '');
  return box;
}
const takeBox = volume => edit([{path: 'box.volume', toml: JSON.stringify(volumeWords(volume))}]);
$('volume').addEventListener('input', () => { showBox({volume_m3: volumeOf(Number($('volume').value))}); });
$('volume').addEventListener('change', () => takeBox(volumeOf(Number($('volume').value))));
$('wanted-qtc').addEventListener('change', async () => {
  const typed = $('wanted-qtc').value.trim(), qtc = Number(typed.replace(',', '.'));
  if (!typed || !Number.isFinite(qtc)) return void ($('box-words').textContent = `"${typed}" is no Qtc: write a number such as 0.7.`);
  const box = await showBox({wanted_qtc: qtc});
  if (box) takeBox(box.volume_l / 1e3);
});
narrowPage.addEventListener('change', () => showBox());
