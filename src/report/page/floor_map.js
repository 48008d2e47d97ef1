// The map, in a worker so that it never holds up a drag.
const mapScale = byId('map-scale'), picture = byId('plan-map');
let mapRange = null;
const colours = data.colours.map(c => [1, 3, 5].map(i => parseInt(c.slice(i, i + 2), 16)));
const colour = share => colours[Math.round(Math.max(0, Math.min(1, share)) * (colours.length - 1))];
const showScale = () => {
  const canvas = document.createElement('canvas'), ends = document.createElement('div');
  canvas.width = colours.length, canvas.height = 1;
  const pen = canvas.getContext('2d');
  colours.forEach((c, i) => { pen.fillStyle = `rgb(${c})`; pen.fillRect(i, 0, 1, 1); });
  for (const text of [mapRange[0].toFixed(1) + ' dB, better', 'spread by where the box stands',
                      mapRange[1].toFixed(1) + ' dB']) {
    const span = document.createElement('span');
    span.textContent = text;
    ends.append(span);
  }
  canvas.setAttribute('aria-hidden', 'true');
  mapScale.replaceChildren(canvas, ends);
  mapScale.hidden = false;
};
const showMap = map => {
  const good = [...map.value].filter(v => v >= 0).sort((a, b) => a - b);
  if (!good.length) { picture.setAttribute('width', 0); return; }
  if (!mapRange) {
    mapRange = [Math.floor(good[0] * 2) / 2, Math.ceil(good[Math.floor(good.length * 0.95)] * 2) / 2];
    if (mapRange[1] <= mapRange[0]) mapRange[1] = mapRange[0] + 0.5;
    showScale();
  }
  const fine = 6, canvas = document.createElement('canvas');
  canvas.width = map.nx * fine, canvas.height = map.ny * fine;
  const pen = canvas.getContext('2d'), image = pen.createImageData(canvas.width, canvas.height);
  const value = (i, j) => map.value[Math.max(0, Math.min(map.ny - 1, j)) * map.nx +
                                    Math.max(0, Math.min(map.nx - 1, i))];
  for (let py = 0; py < canvas.height; ++py)
    for (let px = 0; px < canvas.width; ++px) {
      if (value(Math.floor(px / fine), Math.floor(py / fine)) < 0) continue;
      const fx = (px + 0.5) / fine - 0.5, fy = (py + 0.5) / fine - 0.5;
      const i = Math.floor(fx), j = Math.floor(fy);
      let sum = 0, weight = 0;
      for (const [di, dj] of [[0, 0], [1, 0], [0, 1], [1, 1]]) {
        const v = value(i + di, j + dj), w = (di ? fx - i : i + 1 - fx) * (dj ? fy - j : j + 1 - fy);
        if (v >= 0) sum += w * v, weight += w;
      }
      const c = colour((sum / weight - mapRange[0]) / (mapRange[1] - mapRange[0]));
      image.data.set([...c, 255], 4 * (py * canvas.width + px));
    }
  pen.putImageData(image, 0, 0);
  picture.setAttribute('href', canvas.toDataURL());
  picture.setAttribute('x', cornerX + (map.x0 - map.dx / 2) * scale);
  picture.setAttribute('y', cornerY + (map.y0 - map.dy / 2) * scale);
  picture.setAttribute('width', map.nx * map.dx * scale);
  picture.setAttribute('height', map.ny * map.dy * scale);
};
