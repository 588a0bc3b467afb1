// What this device keeps, in IndexedDB: jobs, the steps of their history, the list as the server last gave it, photos.
// Every change of a job is one transaction, so that a reload in the middle of an edit finds either the old text or the new one.
import { type Card, type Kept, firstStep } from './kept';

export type Step = { job: string; n: number; text: string; what: string; at: number };
export type Photo = {
  job: string;
  name: string;
  type: string;
  /** Null where the server has a photo that was never looked at on this device. */
  blob: Blob | null;
  at: number;
  /** What the server has under this name, as far as this device knows: its SHA-256. */
  sha: string | null;
  /** Counts the changes on this device. */
  seq: number;
  /** There while something here has not reached the server; an index holds just those. */
  waits?: 1;
  /** It was taken away here, and the server is still to hear of it. */
  removed?: true;
  /** Why the server did not take it. */
  refused: string | null;
};

let opened: Promise<IDBDatabase> | undefined;

function open(): Promise<IDBDatabase> {
  opened ??= new Promise<IDBDatabase>((yes, no) => {
    const request = indexedDB.open('lugwright', 2);
    request.onupgradeneeded = (event) => {
      const db = request.result;
      if (event.oldVersion < 1) {
        db.createObjectStore('jobs', { keyPath: 'id' });
        db.createObjectStore('steps', { keyPath: ['job', 'n'] });
        db.createObjectStore('lists');
        db.createObjectStore('photos', { keyPath: ['job', 'name'] });
      }
      const photos = request.transaction?.objectStore('photos');
      photos?.createIndex('waiting', 'waits');
      // Photos from before they went to the server go there now.
      const cursor = photos?.openCursor();
      if (cursor) cursor.onsuccess = () => {
        cursor.result?.update({ sha: null, seq: 1, waits: 1, refused: null, ...(cursor.result.value as object) });
        cursor.result?.continue();
      };
    };
    request.onsuccess = () => {
      request.result.onversionchange = () => {
        request.result.close();
        opened = undefined;
      };
      yes(request.result);
    };
    request.onerror = () => no(request.error ?? new Error('this browser keeps nothing'));
  }).catch((why: unknown) => {
    opened = undefined;
    throw why;
  });
  return opened;
}

function done<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((yes, no) => {
    request.onsuccess = () => yes(request.result);
    request.onerror = () => no(request.error ?? new Error('reading failed'));
  });
}

function committed(transaction: IDBTransaction): Promise<void> {
  return new Promise((yes, no) => {
    transaction.oncomplete = () => yes();
    transaction.onabort = () => no(transaction.error ?? new Error('writing was given up'));
    transaction.onerror = () => no(transaction.error ?? new Error('writing failed'));
  });
}

const stepsOf = (job: string, from = 0) => IDBKeyRange.bound([job, from], [job, Number.MAX_SAFE_INTEGER]);

export async function job(id: string): Promise<Kept | undefined> {
  const db = await open();
  return done(db.transaction('jobs').objectStore('jobs').get(id) as IDBRequest<Kept | undefined>);
}

export async function jobs(): Promise<Kept[]> {
  const db = await open();
  return done(db.transaction('jobs').objectStore('jobs').getAll() as IDBRequest<Kept[]>);
}

/** A job that is new here, with its text as the first step. An older copy of it goes. */
export async function put(kept: Kept): Promise<void> {
  const db = await open();
  const change = db.transaction(['jobs', 'steps'], 'readwrite');
  change.objectStore('jobs').put(kept);
  change.objectStore('steps').delete(stepsOf(kept.id));
  change.objectStore('steps').put({ job: kept.id, n: 0, text: kept.text, what: kept.steps[0] ?? '', at: kept.updated_at } satisfies Step);
  await committed(change);
}

/** Changes what is kept of a job, whatever another tab wrote meanwhile. `changed` gets the newest and gives null to leave it. */
export async function update(id: string, changed: (kept: Kept) => Kept | null): Promise<Kept | undefined> {
  const db = await open();
  const change = db.transaction(['jobs', 'steps'], 'readwrite');
  const jobs = change.objectStore('jobs');
  const kept = await done(jobs.get(id) as IDBRequest<Kept | undefined>);
  if (!kept) return undefined;
  const next = changed(kept);
  if (next === null) return kept;
  jobs.put(next);
  if (next.steps !== kept.steps && next.step !== kept.step) {
    const steps = change.objectStore('steps');
    steps.delete(stepsOf(id, next.step));
    if (firstStep(next) > 0) steps.delete(IDBKeyRange.bound([id, 0], [id, firstStep(next)], false, true));
    steps.put({ job: id, n: next.step, text: next.text, what: next.steps[next.step] ?? '', at: next.updated_at } satisfies Step);
  }
  await committed(change);
  return next;
}

export async function step(id: string, n: number): Promise<Step | undefined> {
  const db = await open();
  return done(db.transaction('steps').objectStore('steps').get([id, n]) as IDBRequest<Step | undefined>);
}

export async function list(): Promise<Card[]> {
  const db = await open();
  return (await done(db.transaction('lists').objectStore('lists').get('server') as IDBRequest<Card[] | undefined>)) ?? [];
}

export async function putList(cards: Card[]): Promise<void> {
  const db = await open();
  const change = db.transaction('lists', 'readwrite');
  change.objectStore('lists').put(cards, 'server');
  await committed(change);
}

export async function photos(job: string): Promise<Photo[]> {
  const db = await open();
  const range = IDBKeyRange.bound([job, ''], [job, '\uffff']);
  return done(db.transaction('photos').objectStore('photos').getAll(range) as IDBRequest<Photo[]>);
}

/** Changes what is kept of a photo: `changed` gets it as it is and gives what it becomes, null to forget it, undefined to leave it. */
export async function updatePhoto(job: string, name: string, changed: (now: Photo | undefined) => Photo | null | undefined): Promise<void> {
  const db = await open();
  const change = db.transaction('photos', 'readwrite');
  const photos = change.objectStore('photos');
  const next = changed(await done(photos.get([job, name]) as IDBRequest<Photo | undefined>));
  if (next) photos.put(next);
  else if (next === null) photos.delete([job, name]);
  await committed(change);
}

/** Jobs with photos that have not reached the server. */
export async function jobsWithPhotosWaiting(): Promise<string[]> {
  const db = await open();
  const keys = await done(db.transaction('photos').objectStore('photos').index('waiting').getAllKeys());
  return [...new Set(keys.map((key) => String((key as IDBValidKey[])[0])))];
}
