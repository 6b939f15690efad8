import { drafts } from './drafts';

/** A value that is kept on the device under a name and read again after a restart. */
export class Kept<T> {
  readonly #name: string;
  #value = $state() as T;

  constructor(name: string, start: T, isOne: (value: unknown) => value is T) {
    this.#name = name;
    this.#value = drafts.read(name, isOne) ?? start;
  }

  get value(): T {
    return this.#value;
  }

  set value(next: T) {
    this.#value = next;
    drafts.keep(this.#name, next);
  }
}

export function isStrings(value: unknown): value is string[] {
  return Array.isArray(value) && value.every((one) => typeof one === 'string');
}

export function isString(value: unknown): value is string {
  return typeof value === 'string';
}
