// What a person reads on a page, text by text, and what has too little room: for PseudoLanguageTest.
(() => {
  const where = e => e.id ? `#${e.id}` : `${e.parentElement?.id ? `#${e.parentElement.id} ` : ''}${e.localName}${e.className && e.className.trim ? `.${e.className.trim().split(/\s+/).join('.')}` : ''}`;
  const seen = e => e.checkVisibility({ visibilityProperty: true, opacityProperty: true });
  const inline = e => getComputedStyle(e).display === 'inline' && !['BUTTON', 'SELECT', 'INPUT', 'TEXTAREA', 'IMG', 'SVG'].includes(e.nodeName);
  const texts = [{ place: 'title', text: document.title }], cut = [];
  const add = (e, text, place = '') => { if (text?.trim()) texts.push({ place: where(e) + place, text: text.trim().replace(/\s+/g, ' ') }); };
  for (const e of document.body.querySelectorAll('*')) {
    if (e.closest('script, style, noscript, template') || !seen(e)) continue;
    for (const name of ['aria-label', 'title', 'alt', 'placeholder']) add(e, e.getAttribute(name), `@${name}`);
    // A row of text is read as one: by its element, unless boxes stand in it.
    const holds = [...e.childNodes].some(child => child.nodeType === Node.TEXT_NODE && child.data.trim());
    const partOfRow = inline(e) && e.parentElement && [...e.parentElement.childNodes].some(child => child.nodeType === Node.TEXT_NODE && child.data.trim());
    if (holds && !partOfRow) {
      if ([...e.querySelectorAll('*')].every(inline)) add(e, e.textContent);
      else for (const child of e.childNodes) if (child.nodeType === Node.TEXT_NODE) add(e, child.data);
    }
    const style = getComputedStyle(e);
    const scrolls = ['auto', 'scroll'].includes(style.overflowX), drawn = e.closest('svg, canvas, select, input') || style.display === 'inline';
    if (!scrolls && !drawn && e.clientWidth > 0 && e.scrollWidth > e.clientWidth + 1) cut.push(`${where(e)}: ${e.scrollWidth} in ${e.clientWidth}`);
    if (style.overflowY === 'hidden' && !drawn && e.clientHeight > 1 && e.scrollHeight > e.clientHeight + 1) cut.push(`${where(e)}: ${e.scrollHeight} in ${e.clientHeight} high`);
  }
  if (document.documentElement.scrollWidth > innerWidth) cut.push(`the page: ${document.documentElement.scrollWidth} in ${innerWidth}`);
  return JSON.stringify({ texts, cut });
})()
