// The box alone, where a builder begins: one slider, several boxes over each other.
const volumeOf = share => 2e-3 * 150 ** share;  // 2 to 300 litres [m3]
const shareOf = volume => Math.log(volume / 2e-3) / Math.log(150);
const volumeWords = v => state.units === 'imperial' ? `${(v / 0.028316846592).toFixed(2)} ft3` : `${(v * 1e3).toFixed(v < 0.02 ? 1 : 0)} L`;

async function showBox(volume) {
  if (state.faults.length) return;
  const turn = (showBox.turn = (showBox.turn || 0) + 1);
  const reply = await quick.ask({command: 'box', text: state.text, units: state.units, volume_m3: volume});
  if (turn !== showBox.turn) return;
  if (reply.status !== 0) {
    $('box-words').textContent = faultWords(reply);
    return;
  }
  const box = reply.answer.boxes[0];
  if (volume === undefined) $('volume').value = shareOf(box.volume_l / 1e3);
  $('volume-now').textContent = volumeWords(box.volume_l / 1e3);
  $('volume').setAttribute('aria-valuetext', volumeWords(box.volume_l / 1e3));
  $('box-words').textContent = `Qtc ${box.qtc.toFixed(2)}: ${box.verdict}. F3 ${box.f3_hz.toFixed(0)} Hz on an endless floor; the room changes that.`;
  $('box-curve').innerHTML = reply.files['response.svg'].replace(/<\?xml[^>]*\?>/, '');
}
$('volume').addEventListener('input', () => { showBox(volumeOf(Number($('volume').value))); });
$('volume').addEventListener('change', () => {
  const v = volumeOf(Number($('volume').value));
  edit([{path: 'box.volume', toml: JSON.stringify(volumeWords(v))}]);
});
