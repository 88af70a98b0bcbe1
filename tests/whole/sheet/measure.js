// Measures a handout laid out as on paper: what stands over its edge, what does
// not fit its place, which words of a drawing lie over one another, and what is
// taller than a page although it must not be parted, and what stands in lines
// narrower than NARROW. HEIGHT is the room of a page in pixels. CALL and the
// faults go before the frame of the handout, a line each.
const faults = [];
const width = document.documentElement.clientWidth;
const told = (e) => e.tagName.toLowerCase() + ' "' + e.textContent.trim().slice(0, 40) + '"';
for (const e of document.querySelectorAll('body *:not(svg *)')) {
  const box = e.getBoundingClientRect();
  if (box.width && (box.right > width + 1 || box.left < -1)) faults.push('over the edge: ' + told(e));
  if (['TD', 'TH', 'P', 'LI', 'DD', 'FIGCAPTION'].includes(e.tagName) && e.textContent.length > 40 && box.width && getComputedStyle(e).display !== 'inline' && box.width < NARROW) faults.push('in narrow lines: ' + told(e));
  if (['TD', 'TH'].includes(e.tagName) && e.scrollWidth > e.clientWidth + 1) faults.push('too wide for its cell: ' + told(e));
}
for (const e of document.querySelectorAll('figure, tr, li, .care, .keep')) {
  if (e.getBoundingClientRect().height > HEIGHT) faults.push('taller than a page: ' + told(e));
}
// A drawing that is made smaller is measured at its full size alone.
for (const svg of NARROW ? [] : document.querySelectorAll('svg')) {
  const view = svg.viewBox.baseVal;
  const words = [...svg.querySelectorAll('text')];
  const boxes = words.map((text) => text.getBBox());
  boxes.forEach((box, i) => {
    if (box.x < -0.3 || box.x + box.width > view.width + 0.3 || box.y < -0.5 || box.y + box.height > view.height + 0.5) {
      faults.push('cut off in a drawing: ' + told(words[i]));
    }
    boxes.slice(i + 1).forEach((other, j) => {
      const wide = Math.min(box.x + box.width, other.x + other.width) - Math.max(box.x, other.x);
      // Type is less tall than the line it stands on.
      const high = Math.min(box.y + box.height, other.y + other.height) - Math.max(box.y, other.y) - 0.3 * Math.min(box.height, other.height);
      if (wide > 0.15 && high > 0.1) faults.push('words over words: ' + told(words[i]) + ' and ' + told(words[i + 1 + j]) + ' in ' + svg.querySelector('title').textContent);
    });
  });
}
const list = parent.document.createElement('pre');
list.className = 'measured';
list.textContent = ['CALL', ...faults].join('\n');
frameElement.before(list);
