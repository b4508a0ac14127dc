/** Checks on values from files that others wrote. What does not fit is told in a sentence. */

/** A value is not what it should be; the message is a sentence for the person. */
export class Unfit extends Error {
  override name = 'Unfit';
}

/** A name of a place in a file, such as "label 3 of recording 1". */
export type Where = string;

export function fieldsOf(value: unknown, where: Where): Readonly<Record<string, unknown>> {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    throw new Unfit(`What stands for ${where} is no set of fields.`);
  }
  return value as Record<string, unknown>;
}

export function listOf(value: unknown, where: Where, most: number): readonly unknown[] {
  if (!Array.isArray(value)) {
    throw new Unfit(`What stands for ${where} is no list.`);
  }
  if (value.length > most) {
    throw new Unfit(`The list of ${where} has ${value.length} entries; at most ${most} are taken.`);
  }
  return value;
}

export function textOf(value: unknown, where: Where, most: number): string {
  if (typeof value !== 'string') {
    throw new Unfit(`What stands for ${where} is no text.`);
  }
  if (value.length > most) {
    throw new Unfit(`The text of ${where} has ${value.length} characters; at most ${most} are taken.`);
  }
  return value;
}

export function numberOf(value: unknown, where: Where, least: number, most: number): number {
  if (typeof value !== 'number' || !(value >= least && value <= most)) {
    throw new Unfit(`What stands for ${where} is no number from ${least} to ${most}.`);
  }
  return value;
}

export function oneOf<T extends string>(value: unknown, where: Where, choices: readonly T[]): T {
  const found = choices.find((choice) => choice === value);
  if (found === undefined) {
    throw new Unfit(`What stands for ${where} is none of ${choices.map((choice) => `"${choice}"`).join(', ')}.`);
  }
  return found;
}

/** A moment with its distance from UTC, as `moment` writes it. */
export function momentOf(value: unknown, where: Where): string {
  const text = textOf(value, where, 40);
  const form = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(?:\.\d{1,9})?(?:Z|[+-]\d\d:\d\d)$/;
  if (!form.test(text) || Number.isNaN(Date.parse(text))) {
    throw new Unfit(`What stands for ${where} is no moment such as 2026-06-14T22:41:05+01:00.`);
  }
  return text;
}
