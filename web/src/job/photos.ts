// Photos of a job: kept on this device first, then carried to the server; those of other devices are learned of here and fetched when looked at.
// The server never throws one away, so the later of two under one name is shown and the other stays there. See docs/app.md.
import * as api from './api';
import * as local from './local';
import type { Photo } from './local';
import { t } from '../words/words';
import { tell } from './tabs';

/** Keeps a photo under this name, in place of the one that had it. */
export async function take(job: string, name: string, type: string, file: Blob): Promise<void> {
  const blob = new Blob([await file.arrayBuffer()], { type });
  await local.updatePhoto(job, name, (now) => ({ job, name, type, blob, at: Date.now(), sha: now?.sha ?? null, seq: (now?.seq ?? 0) + 1, waits: 1, refused: null }));
  tell(job);
}

/** Takes a photo away; one that never left this device is gone. */
export async function remove(job: string, name: string): Promise<void> {
  await local.updatePhoto(job, name, (now) => now && { ...now, seq: now.seq + 1, waits: 1, removed: true, refused: null });
  tell(job);
}

/** Tries again what the server refused. */
export async function tryAgain(job: string, name: string): Promise<void> {
  await local.updatePhoto(job, name, (now) => (now?.refused ? { ...now, waits: 1, refused: null } : undefined));
  tell(job);
}

const fetching = new Set<string>();

/** Fetches the bytes of a photo that was taken elsewhere; from then on they are here. */
export async function fetchPhoto(photo: Photo): Promise<void> {
  const { job, name, sha } = photo;
  if (sha === null || fetching.has(job + sha)) return;
  fetching.add(job + sha);
  const blob = await api.photo(api.currentPhotoAddress(job, name), sha).finally(() => fetching.delete(job + sha));
  if (!blob) return;
  await local.updatePhoto(job, name, (now) => (now && now.blob === null && now.sha === sha ? { ...now, blob } : undefined));
  tell(job);
}

/** Photos that were taken again or removed, newest first; null without an answer of the server. */
export async function earlier(job: string): Promise<api.ServerPhoto[] | null> {
  const reply = await api.photosEver(job);
  return reply.status === 200 && 'body' in reply ? reply.body.photos.filter((photo) => photo.removed !== null).reverse() : null;
}

/** Takes an earlier photo as the one under its name again. */
export async function bringBack(job: string, photo: api.ServerPhoto): Promise<boolean> {
  const blob = await api.photo(api.photoAddress(job, photo), photo.sha256);
  if (blob) await take(job, photo.name, photo.kind, blob);
  return blob !== null;
}

export type Standing = 'here' | 'sending' | 'kept' | 'elsewhere' | 'refused';

export function standing(photo: Photo, sending: boolean): Standing {
  if (photo.refused !== null) return 'refused';
  if (photo.waits) return sending ? 'sending' : 'here';
  return photo.blob ? 'kept' : 'elsewhere';
}

/** Both ways; the status of the last answer, null when nothing was asked. */
export async function carry(job: string, look: boolean, sending: (name: string | null) => void): Promise<number | null> {
  const kept = await local.job(job).catch(() => undefined);
  // The server must know the job before its photos.
  if (!kept?.base) return null;
  let status: number | null = null;
  try {
    for (const photo of await local.photos(job)) {
      if (!photo.waits || photo.refused !== null) continue;
      sending(photo.name);
      status = photo.removed ? await sendRemoval(photo) : await sendPhoto(photo);
      tell(job);
      if (status === 0 || status === 404 || (status !== null && status >= 500)) return status;
    }
  } finally {
    sending(null);
  }
  return look ? learn(job) : status;
}

async function sendPhoto(photo: Photo): Promise<number | null> {
  if (!photo.blob) return null;
  const reply = await api.putPhoto(photo.job, photo.name, photo.blob);
  if (reply.status === 200 && 'body' in reply) {
    const sha = reply.body.sha256;
    await change(photo, (now) => (now.seq === photo.seq ? { ...settled(now), sha } : { ...now, sha }));
  } else await refuse(photo, reply);
  return reply.status;
}

async function sendRemoval(photo: Photo): Promise<number | null> {
  const gone = (now: Photo) => (now.seq === photo.seq ? null : { ...now, sha: null });
  if (photo.sha === null) {
    await change(photo, gone);
    return null;
  }
  const reply = await api.removePhoto(photo.job, photo.name, photo.sha);
  if (reply.status === 200 || reply.status === 404) await change(photo, gone);
  else if (reply.status === 412 && 'body' in reply) {
    // Somebody took it again meanwhile; what was not seen here is not removed.
    const { theirs } = reply.body;
    await change(photo, (now) => (now.seq === photo.seq ? known(photo.job, theirs, now.seq) : now));
  } else await refuse(photo, reply);
  return reply.status === 404 ? 200 : reply.status;
}

/** A refusal is shown with its reason; the photo stays. No answer, or a server that does not know the job yet, is no refusal. */
async function refuse(photo: Photo, reply: api.Reply<api.Problem>): Promise<void> {
  if (!('body' in reply) || reply.status >= 500 || reply.status === 404) return;
  const why = [reply.body.error, reply.body.expected && `${t('refusal.expected', { expected: reply.body.expected })}.`, reply.body.advice].filter(Boolean).join(' ');
  await change(photo, (now) => (now.seq === photo.seq ? { ...(now.removed ? settled(now) : now), refused: why } : now));
}

/** Lays what the server has into what is kept here; what waits here goes on waiting. */
async function learn(job: string): Promise<number> {
  const reply = await api.photos(job);
  if (reply.status !== 200 || !('body' in reply)) return reply.status;
  const theirs = new Map(reply.body.photos.map((photo) => [photo.name, photo]));
  for (const photo of theirs.values()) {
    await local.updatePhoto(job, photo.name, (now) => (now?.waits || now?.sha === photo.sha256 ? undefined : known(job, photo, now?.seq ?? 0)));
  }
  for (const photo of await local.photos(job)) {
    if (!theirs.has(photo.name)) await change(photo, (now) => (now.waits ? now : null));
  }
  tell(job);
  return reply.status;
}

const known = (job: string, photo: api.ServerPhoto, seq: number): Photo => ({
  job, name: photo.name, type: photo.kind, blob: null, at: photo.at, sha: photo.sha256, seq, refused: null,
});

/** Nothing of it waits any more. */
function settled(photo: Photo): Photo {
  const { waits: _waits, removed: _removed, ...rest } = photo;
  return rest;
}

const change = (photo: Photo, changed: (now: Photo) => Photo | null) =>
  local.updatePhoto(photo.job, photo.name, (now) => (now ? changed(now) : undefined));
