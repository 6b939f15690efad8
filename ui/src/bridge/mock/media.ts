import type { PictureView } from '../types';

/** Drawn plugs, a silent clip and a drawn page: invented, made in the browser. */

const COLOURS: Record<number, string> = { 3: '#4a3a2c', 5: '#3b3835' };

export function pictureView(cylinder: number): PictureView {
  return {
    cylinder,
    picture: `plug-${cylinder}`,
    width_px: 800,
    height_px: 600,
    circle: { x_px: 400, y_px: 300, radius_px: 70 },
    confidence: 0.9,
    balanced: true,
    faults: [],
    lightness: cylinder === 5 ? 24 : 62,
    a: 4,
    b: 12,
    swatch: COLOURS[cylinder] ?? '#b59c7c',
    odd_by: cylinder === 5 ? 31.4 : cylinder === 3 ? 22.6 : null,
  };
}

export async function plugPicture(picture: string): Promise<ArrayBuffer> {
  const cylinder = Number(picture.split('-')[1]);
  const canvas = document.createElement('canvas');
  canvas.width = 800;
  canvas.height = 600;
  const pen = canvas.getContext('2d');
  if (pen) {
    const ring = (radius: number, colour: string): void => {
      pen.beginPath();
      pen.arc(400, 300, radius, 0, Math.PI * 2);
      pen.fillStyle = colour;
      pen.fill();
    };
    pen.fillStyle = '#8d8a86';
    pen.fillRect(0, 0, 800, 600);
    ring(190, '#55585a');
    ring(160, '#9a9c9c');
    ring(120, '#2e2d2c');
    ring(70, COLOURS[cylinder] ?? '#b59c7c');
    ring(22, '#6d6a66');
    pen.fillStyle = '#77797a';
    pen.fillRect(385, 110, 30, 200);
  }
  const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, 'image/png'));
  return blob ? blob.arrayBuffer() : new ArrayBuffer(0);
}

/** A tenth of a second of silence: 16 kHz, one channel, 16 bit. */
export function silentWav(): ArrayBuffer {
  const samples = 1600;
  const bytes = new DataView(new ArrayBuffer(44 + samples * 2));
  const word = (at: number, text: string): void =>
    [...text].forEach((letter, place) => bytes.setUint8(at + place, letter.charCodeAt(0)));
  word(0, 'RIFF');
  bytes.setUint32(4, 36 + samples * 2, true);
  word(8, 'WAVEfmt ');
  bytes.setUint32(16, 16, true);
  bytes.setUint16(20, 1, true);
  bytes.setUint16(22, 1, true);
  bytes.setUint32(24, 16_000, true);
  bytes.setUint32(28, 32_000, true);
  bytes.setUint16(32, 2, true);
  bytes.setUint16(34, 16, true);
  word(36, 'data');
  bytes.setUint32(40, samples * 2, true);
  return bytes.buffer as ArrayBuffer;
}

export function page(number: number): ArrayBuffer {
  const lines = Array.from({ length: 22 }, (_, line) => `<path d="M60 ${190 + line * 26}h${460 - ((line * 83) % 190)}" stroke="#777" stroke-width="5"/>`);
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 595 842" width="595" height="842"><rect width="595" height="842" fill="#fff"/><path d="M60 90h300" stroke="#222" stroke-width="16"/><path d="M60 130h${number * 90}" stroke="#555" stroke-width="9"/>${lines.join('')}</svg>`;
  return new TextEncoder().encode(svg).buffer as ArrayBuffer;
}
