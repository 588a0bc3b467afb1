// @vitest-environment node
import { expect, test } from 'vitest';
import { MOST_BYTES, isPhotoName, photoType } from './photo-type';

const blob = (...bytes: number[]) => new Blob([new Uint8Array([...bytes, ...Array.from<number>({ length: 12 }).fill(0)])]);
const ascii = (text: string) => [...text].map((c) => c.charCodeAt(0));
const JPEG = [0xff, 0xd8, 0xff, 0xe0];

test('a photo is known by its bytes, and nothing else is taken for one', async () => {
  expect(await photoType(blob(...JPEG))).toEqual({ type: 'image/jpeg' });
  expect(await photoType(blob(0x89, ...ascii('PNG\r\n\x1a\n')))).toEqual({ type: 'image/png' });
  expect(await photoType(blob(...ascii('RIFF'), 0, 0, 0, 0, ...ascii('WEBP')))).toEqual({ type: 'image/webp' });
  expect(await photoType(blob(0, 0, 0, 24, ...ascii('ftypheic')))).toEqual({ type: 'image/heic' });
  for (const none of [
    new File(['<svg xmlns="http://www.w3.org/2000/svg"/>'], 'a.jpg', { type: 'image/jpeg' }),
    blob(...ascii('RIFF'), 0, 0, 0, 0, ...ascii('WAVE')),
    blob(0x89, ...ascii('PNG\n\n')),
    new Blob([new Uint8Array(JPEG)]),
    new Blob([]),
  ]) expect(await photoType(none)).toEqual({ wrong: 'wrong' });
});

test('a photo of more than 25 MB is told apart from what is no photo', async () => {
  const large = new Blob([new Uint8Array(JPEG), new Uint8Array(MOST_BYTES)]);
  expect(await photoType(large)).toEqual({ wrong: 'too_large' });
});

test('a name has something to read in it', () => {
  expect(['Meter', '½ open', '配电箱'].map(isPhotoName)).toEqual([true, true, true]);
  expect(['', '..', '...', ' - ', 'x'.repeat(121)].map(isPhotoName)).toEqual([false, false, false, false, false]);
});
