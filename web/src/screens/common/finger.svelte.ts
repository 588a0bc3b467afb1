// Is the screen worked with a finger, or as small as one that is?
const asked = typeof matchMedia === 'function' ? matchMedia('(pointer: coarse), (max-width: 40rem)') : null;

class Finger {
  is = $state(asked?.matches ?? false);

  constructor() {
    asked?.addEventListener('change', () => (this.is = asked.matches));
  }
}

export const finger = new Finger();

/** Tells the width of an element in pixels, now and whenever it changes. */
export function width(told: (pixels: number) => void): (element: Element) => (() => void) | undefined {
  return (element) => {
    told(element.clientWidth);
    if (typeof ResizeObserver === 'undefined') return undefined;
    const watch = new ResizeObserver(() => told(element.clientWidth));
    watch.observe(element);
    return () => watch.disconnect();
  };
}
