// @vitest-environment node
import { expect, test } from 'vitest';
import { photoType } from './photo-type';

const blob = (...bytes: number[]) => new Blob([new Uint8Array(bytes)]);
const ascii = (text: string) => [...text].map((c) => c.charCodeAt(0));

test('a photo is known by its bytes, and nothing else is taken for one', async () => {
  expect(await photoType(blob(0xff, 0xd8, 0xff, 0xe0))).toBe('image/jpeg');
  expect(await photoType(blob(0x89, ...ascii('PNG')))).toBe('image/png');
  expect(await photoType(blob(...ascii('RIFF'), 0, 0, 0, 0, ...ascii('WEBP')))).toBe('image/webp');
  expect(await photoType(blob(0, 0, 0, 24, ...ascii('ftypheic')))).toBe('image/heic');
  expect(await photoType(new File(['<svg xmlns="http://www.w3.org/2000/svg"/>'], 'a.jpg', { type: 'image/jpeg' }))).toBeNull();
  expect(await photoType(blob(...ascii('RIFF'), 0, 0, 0, 0, ...ascii('WAVE')))).toBeNull();
  expect(await photoType(blob())).toBeNull();
});
