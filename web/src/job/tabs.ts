// Tells the other tabs of this browser that something about a job was written here.
type News = { id: string };

const channel = typeof BroadcastChannel === 'undefined' ? undefined : new BroadcastChannel('lugwright');
const listeners = new Set<(id: string) => void>();

if (channel) channel.onmessage = (event: MessageEvent<News>) => listeners.forEach((listener) => listener(event.data.id));

export function tell(id: string): void {
  channel?.postMessage({ id } satisfies News);
  listeners.forEach((listener) => listener(id));
}

/** Hears of changes in other tabs and in this one. */
export function hear(listener: (id: string) => void): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

/** Runs alone among all tabs where the browser can promise that; where not, the server's revisions keep things right. */
export function alone<T>(name: string, work: () => Promise<T>): Promise<T> {
  return navigator.locks ? (navigator.locks.request(name, work) as Promise<T>) : work();
}
