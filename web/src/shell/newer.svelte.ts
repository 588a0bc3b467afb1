// Registers the service worker, and tells when a newer version of the app is ready to take over.
class Newer {
  ready = $state(false);
  #waiting: ServiceWorker | null = null;

  start(): void {
    // Plain http under a host name has none: the app then works as long as the line does, and edits are kept all the same.
    if (!import.meta.env.PROD || !('serviceWorker' in navigator)) return;
    void navigator.serviceWorker.register('/service-worker.js').then((registration: ServiceWorkerRegistration | undefined) => {
      // A browser may hold the name and yet refuse the thing.
      if (!registration) return;
      const look = () => {
        this.#waiting = registration.waiting;
        this.ready = registration.waiting !== null && navigator.serviceWorker.controller !== null;
      };
      look();
      registration.addEventListener('updatefound', () => registration.installing?.addEventListener('statechange', look));
    }, () => undefined);
  }

  take(): void {
    navigator.serviceWorker.addEventListener('controllerchange', () => location.reload(), { once: true });
    this.#waiting?.postMessage('take over');
  }
}

export const newer = new Newer();
