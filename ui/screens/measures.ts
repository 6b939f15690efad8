import type { Page } from 'playwright-core';

/** What is wrong with how a page is laid out, in words; empty when nothing is. Runs in the page. */
export async function faults(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const found: string[] = [];
    const name = (element: Element): string =>
      `${element.tagName.toLowerCase()}${element.getAttribute('data-testid') ? `[${element.getAttribute('data-testid')}]` : ''} "${(element.textContent ?? '').trim().slice(0, 30)}"`;
    const shown = (element: Element): boolean =>
      element.checkVisibility({ checkOpacity: false, checkVisibilityCSS: true }) &&
      element.closest('.unseen') === null &&
      element.closest('[inert]') === null;

    // Nothing is wider than the window.
    const wide = document.documentElement.scrollWidth;
    if (wide > innerWidth) found.push(`the page is ${wide} px wide, the window ${innerWidth} px`);
    const app = document.querySelector('[data-testid="app"]');
    for (const box of [document.documentElement, ...(app ? [app] : [])]) {
      if (box.scrollHeight > box.clientHeight + 1) {
        found.push(`${box.tagName} is ${box.scrollHeight} px high, its room ${box.clientHeight} px`);
      }
    }
    for (const box of document.querySelectorAll('main, .scroll, dialog[open] .body')) {
      if (box.scrollWidth > box.clientWidth) found.push(`${name(box)} scrolls sideways`);
    }

    // 12 mm for a gloved thumb, about 64 CSS px.
    const TARGET = 64;
    for (const control of document.querySelectorAll('button, select, textarea, summary, input')) {
      if (!shown(control)) continue;
      const { width, height } = control.getBoundingClientRect();
      if (width < TARGET - 0.5 || height < TARGET - 0.5) {
        found.push(`${name(control)} is ${width.toFixed(0)} x ${height.toFixed(0)} px, wanted ${TARGET}`);
      }
    }

    // 18 px and up, also in drawings, which are scaled.
    const SMALLEST = 18;
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const element = node.parentElement;
      if (!element || !node.textContent?.trim() || !shown(element)) continue;
      const scale = element instanceof SVGGraphicsElement ? (element.getScreenCTM()?.a ?? 1) : 1;
      const size = parseFloat(getComputedStyle(element).fontSize) * scale;
      if (size < SMALLEST - 0.5) found.push(`${name(element)} is ${size.toFixed(1)} px, wanted ${SMALLEST}`);
    }

    // No word is cut off, but where an ellipsis says so.
    for (const element of document.querySelectorAll('span, p, h1, h2, h3, output, dd, button')) {
      if (!shown(element) || element.clientWidth === 0 || !element.textContent?.trim()) continue;
      const style = getComputedStyle(element);
      if (style.overflowX === 'visible' || style.textOverflow === 'ellipsis') continue;
      if (element.scrollWidth > element.clientWidth + 1) found.push(`${name(element)} is cut off`);
    }

    // In the strip nothing reaches out of its cell.
    for (const cell of document.querySelectorAll('[data-testid^="strip-"]')) {
      if (!shown(cell)) continue;
      const end = cell.getBoundingClientRect().right;
      for (const part of cell.querySelectorAll('.word, .value, .number')) {
        const range = document.createRange();
        range.selectNodeContents(part);
        const over = range.getBoundingClientRect().right - end;
        if (over > 0.5) found.push(`${name(cell)}: "${part.textContent}" is ${over.toFixed(1)} px too wide`);
      }
    }
    return found;
  });
}

/** Whether a part lies wholly within the window. */
export async function inView(page: Page, testid: string): Promise<boolean> {
  return page.getByTestId(testid).evaluate((element) => {
    const { top, bottom, left, right } = element.getBoundingClientRect();
    return top >= 0 && left >= 0 && bottom <= innerHeight + 0.5 && right <= innerWidth + 0.5;
  });
}
