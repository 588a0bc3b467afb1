// Keeps the app and the engine on the device, so that it starts without a line. Data never goes through here: the API is left to the network.
// `FILES` and `VERSION` are put in when the app is built (build/service-worker.ts).
export {};
declare const self: ServiceWorkerGlobalScope;
declare const FILES: string[];
declare const VERSION: string;

const NAME = `lugwright-${VERSION}`;
const START = '/index.html';
const kept = new Set(FILES);

self.addEventListener('install', (event) => {
  event.waitUntil(caches.open(NAME).then((cache) => cache.addAll(FILES)));
});

self.addEventListener('activate', (event) => {
  event.waitUntil(
    caches
      .keys()
      .then((names) => Promise.all(names.filter((name) => name.startsWith('lugwright-') && name !== NAME).map((name) => caches.delete(name))))
      .then(() => self.clients.claim()),
  );
});

// An open page goes on with the files it began with, until its user asks for the newer ones.
self.addEventListener('message', (event) => {
  if (event.data === 'take over') void self.skipWaiting();
});

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== self.location.origin || url.pathname.startsWith('/api/')) return;
  const isScreen = request.mode === 'navigate' && !url.pathname.split('/').at(-1)?.includes('.');
  const path = isScreen ? START : url.pathname;
  if (!kept.has(path)) return;
  event.respondWith(caches.open(NAME).then((cache) => cache.match(path)).then((found) => found ?? fetch(request)));
});
