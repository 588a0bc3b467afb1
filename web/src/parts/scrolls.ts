// A part that is wider than the screen can be reached and scrolled by keyboard, and says so; one that fits is no stop on the way.
import type { Action } from 'svelte/action';
import { t } from '../words/words';

export const scrolls: Action<HTMLElement, string | undefined> = (node, label) => {
  let name = label;
  const look = () => {
    const wide = node.scrollWidth > node.clientWidth + 1;
    if (wide) {
      node.tabIndex = 0;
      node.setAttribute('role', 'group');
      node.setAttribute('aria-label', name ?? t('part.scrolls'));
    } else {
      node.removeAttribute('tabindex');
      node.removeAttribute('role');
      node.removeAttribute('aria-label');
    }
  };
  const sizes = typeof ResizeObserver === 'undefined' ? undefined : new ResizeObserver(look);
  sizes?.observe(node);
  if (node.firstElementChild) sizes?.observe(node.firstElementChild);
  look();
  return {
    update(next) {
      name = next;
      look();
    },
    destroy: () => sizes?.disconnect(),
  };
};
