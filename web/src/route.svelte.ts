// Where the app is, in the address line. Own, small: five kinds of place.
import { type StageName, isStage } from './stages';

export type Place =
  | { kind: 'jobs' }
  | { kind: 'new' }
  | { kind: 'job'; id: string; stage: StageName }
  | { kind: 'nowhere' };

export function read(path: string): Place {
  const parts = path.split('/').filter((part) => part !== '');
  if (parts.length === 0) return { kind: 'jobs' };
  if (parts.length === 1 && parts[0] === 'new') return { kind: 'new' };
  const [jobs, id, stage = 'walk-through'] = parts;
  if (jobs === 'jobs' && id !== undefined && parts.length <= 3 && isStage(stage)) return { kind: 'job', id, stage };
  return { kind: 'nowhere' };
}

class Route {
  place: Place = $state.raw(read(location.pathname));

  go(path: string, how: 'push' | 'replace' = 'push'): void {
    if (how === 'replace' || path === location.pathname) history.replaceState(null, '', path);
    else history.pushState(null, '', path);
    this.#moved();
    scrollTo(0, 0);
  }

  /** Links within the app stay in the app; everything else is left to the browser. */
  listen(): void {
    addEventListener('popstate', () => this.#moved());
    addEventListener('click', (event) => {
      if (event.defaultPrevented || event.button !== 0 || event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
      const link = (event.target as Element | null)?.closest('a');
      if (!link || link.target !== '' || link.hasAttribute('download') || link.origin !== location.origin) return;
      if (link.pathname.startsWith('/api/') || link.hash !== '') return;
      event.preventDefault();
      this.go(link.pathname);
    });
  }

  #moved(): void {
    this.place = read(location.pathname);
  }
}

export const route = new Route();
export const jobPath = (id: string, stage: StageName = 'walk-through') => `/jobs/${id}/${stage}`;
