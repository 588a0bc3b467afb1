// The server, as docs/server.md has it. A line that is down is an answer too.
import type { Card, Price } from './kept';

export type Listed = Card & { revision: number; removed: boolean };
export type ServerJob = Listed & { text: string };
export type Problem = { error: string; expected?: string; advice?: string };
/** Status 0: no answer of the server. */
export type Reply<T> = { status: number; body: T } | { status: 0 };

const JSON_TYPE = 'application/json';

const LONGEST = 15_000;
/** As long as the server lets a photo take. */
const LONGEST_PHOTO = 30_000;

async function go<T>(method: string, path: string, body?: unknown, tag?: string | number): Promise<Reply<T>> {
  const headers: Record<string, string> = { accept: JSON_TYPE };
  const bytes = body instanceof Blob;
  if (body !== undefined) headers['content-type'] = bytes ? body.type : JSON_TYPE;
  if (tag !== undefined) headers['if-match'] = `"${tag}"`;
  try {
    const response = await fetch(`/api/v1${path}`, {
      method,
      headers,
      ...(body === undefined ? {} : { body: bytes ? body : JSON.stringify(body) }),
      cache: 'no-store',
      signal: AbortSignal.timeout(bytes ? LONGEST_PHOTO : LONGEST),
    });
    // A proxy or a service worker without a line answers with something else than JSON.
    if (!response.headers.get('content-type')?.startsWith(JSON_TYPE)) return { status: 0 };
    return { status: response.status, body: (await response.json()) as T };
  } catch {
    return { status: 0 };
  }
}

export type Save = { text: string; stage?: string; address?: string; customer?: string; next_date?: string | null; price?: Price; note?: string };
export type Conflict = { yours: unknown; theirs: ServerJob & { by?: string; at?: number } };

export const list = (search: string, after?: string) =>
  go<{ jobs: Listed[]; next: string | null }>('GET', `/jobs?limit=50&search=${encodeURIComponent(search)}${after ? `&after=${encodeURIComponent(after)}` : ''}`);
export const read = (id: string) => go<ServerJob>('GET', `/jobs/${id}`);
export const make = (job: Save & { id: string }) => go<Listed & Problem & Conflict>('POST', '/jobs', job);
export const save = (id: string, revision: number, job: Save) => go<Listed & Problem & Conflict>('PUT', `/jobs/${id}`, job, revision);
export const remove = (id: string, revision: number) => go<Listed & Problem>('DELETE', `/jobs/${id}`, undefined, revision);

export type ServerPhoto = { number: number; name: string; kind: string; bytes: number; sha256: string; at: number; removed: number | null };

const photoPath = (id: string, name: string) => `/jobs/${id}/photos/${encodeURIComponent(name)}`;
export const photos = (id: string) => go<{ photos: ServerPhoto[] }>('GET', `/jobs/${id}/photos`);
export const currentPhotoAddress = (id: string, name: string) => `/api/v1${photoPath(id, name)}`;
export const putPhoto = (id: string, name: string, photo: Blob) => go<ServerPhoto & Problem>('PUT', photoPath(id, name), photo);
export const removePhoto = (id: string, name: string, sha: string) =>
  go<ServerPhoto & Problem & { theirs: ServerPhoto }>('DELETE', photoPath(id, name), undefined, sha);

/** Photos that were taken again or removed are among these. */
export const photosEver = (id: string) => go<{ photos: ServerPhoto[] }>('GET', `/jobs/${id}/photos?all=true`);
/** Where the server gives the bytes of a photo by its number, removed or not. */
export const photoAddress = (id: string, photo: ServerPhoto) => `/api/v1${photoPath(id, photo.name)}?number=${photo.number}`;

/** The bytes of a photo, if they are the ones that are meant; null when not, or without a line. */
export async function photo(address: string, sha: string): Promise<Blob | null> {
  try {
    const response = await fetch(address, { cache: 'no-store', signal: AbortSignal.timeout(LONGEST_PHOTO) });
    return response.ok && response.headers.get('etag') === `"${sha}"` ? await response.blob() : null;
  } catch {
    return null;
  }
}
