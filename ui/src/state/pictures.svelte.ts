import { call } from '$/bridge/bridge';
import { problems } from './problems.svelte';

/** Pictures by their identity, as addresses an `img` can show. A picture never changes, so each is
 * asked for once; the number held is small: one per cylinder. */
class Pictures {
  #urls = $state<Record<string, string>>({});
  readonly #asked = new Set<string>();

  url(picture: string): string | null {
    return this.#urls[picture] ?? null;
  }

  async load(picture: string): Promise<void> {
    if (this.#asked.has(picture)) return;
    this.#asked.add(picture);
    const bytes = await problems.attempt(() => call('picture_of', { picture }));
    if (bytes) this.#urls[picture] = URL.createObjectURL(new Blob([bytes]));
    else this.#asked.delete(picture);
  }
}

export const pictures = new Pictures();

/** A file's bytes as base64, as the camera wrote them. */
export async function base64Of(file: Blob): Promise<string> {
  return new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onload = () => resolve(String(reader.result).replace(/^data:[^,]*,/, ''));
    reader.onerror = () => reject(reader.error ?? new Error('file'));
    reader.readAsDataURL(file);
  });
}
