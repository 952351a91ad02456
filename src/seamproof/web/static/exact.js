// Exact lengths: fractions of the project's unit, read and written as at the cutting table.

const SINGLE = {
  "½": [1, 2], "⅓": [1, 3], "⅔": [2, 3], "¼": [1, 4], "¾": [3, 4], "⅕": [1, 5], "⅖": [2, 5],
  "⅗": [3, 5], "⅘": [4, 5], "⅙": [1, 6], "⅚": [5, 6], "⅛": [1, 8], "⅜": [3, 8], "⅝": [5, 8],
  "⅞": [7, 8],
};

/** The largest denominator that stays a fraction; it holds every ruler and centimetres. */
const FINEST = 121920n;
/** Decimals of a length that lies on no grid. */
const PLACES = 6;

export class Exact {
  /** n / d with d > 0, in lowest terms; `v` is its value. */
  constructor(n, d = 1n) {
    const common = gcd(n < 0n ? -n : n, d);
    this.n = n / common;
    this.d = d / common;
    this.v = Number(this.n) / Number(this.d);
    if (!Number.isFinite(this.v)) throw new RangeError("a length out of reach");
  }

  plus(other) {
    return new Exact(this.n * other.d + other.n * this.d, this.d * other.d);
  }

  minus(other) {
    return new Exact(this.n * other.d - other.n * this.d, this.d * other.d);
  }

  times(other) {
    return new Exact(this.n * other.n, this.d * other.d);
  }

  over(other) {
    const sign = other.n < 0n ? -1n : 1n;
    return new Exact(sign * this.n * other.d, sign * this.d * other.n);
  }

  /** As a file says it: a whole number, a mixed fraction, or decimals where there is no grid. */
  get text() {
    if (this.d > FINEST) return decimals(this.v, PLACES);
    const sign = this.n < 0n ? "-" : "";
    const n = this.n < 0n ? -this.n : this.n;
    const whole = n / this.d;
    const rest = n % this.d;
    if (rest === 0n) return `${sign}${whole}`;
    return `${sign}${whole ? `${whole} ` : ""}${rest}/${this.d}`;
  }
}

export const ZERO = new Exact(0n);

/** A whole number, exactly. */
export function whole(number) {
  return new Exact(BigInt(number));
}

/** A measured place as it would be typed: to a millionth. */
export function near(value) {
  return new Exact(BigInt(Math.round(value * 10 ** PLACES)), 10n ** BigInt(PLACES));
}

/** The nearest multiple of a step. */
export function onStep(value, step) {
  return step.times(new Exact(BigInt(Math.round(value / step.v))));
}

/** What was typed as a length, or null: 2 7/8, 2-7/8", 2⅞, 7/8, 2.875, 12,5. */
export function parsed(typed) {
  let text = String(typed).trim().replace(/(?:["″]|\bin\b|\bcm\b)\.?$/u, "").trim();
  const sign = text.startsWith("-") ? -1n : 1n;
  if (sign < 0n) text = text.slice(1).trim();
  const made = unsigned(text);
  return made && new Exact(sign * made.n, made.d);
}

function unsigned(text) {
  const last = SINGLE[text.at(-1)];
  if (last) {
    const before = text.slice(0, -1).trim();
    if (before && !/^\d{1,9}$/u.test(before)) return null;
    return new Exact(BigInt(before || 0) * BigInt(last[1]) + BigInt(last[0]), BigInt(last[1]));
  }
  let found = /^(?:(\d{1,9})[\s-]+)?(\d{1,6})\s*[/⁄]\s*(\d{1,6})$/u.exec(text);
  if (found) {
    const d = BigInt(found[3]);
    return d === 0n ? null : new Exact(BigInt(found[1] || 0) * d + BigInt(found[2]), d);
  }
  found = /^(\d{0,9})(?:[.,](\d{0,6}))?$/u.exec(text);
  if (!found || !(found[1] || found[2])) return null;
  const places = found[2] || "";
  return new Exact(BigInt(found[1] + places), 10n ** BigInt(places.length));
}

/** A number to so many decimals, without needless zeros. */
export function decimals(value, places) {
  return String(Number(value.toFixed(places)));
}

/** A length to read: exact if it is on a ruler, else to three decimals. */
export function readable(length) {
  return length.d <= 64n ? length.text : decimals(length.v, 3);
}

function gcd(a, b) {
  while (b) [a, b] = [b, a % b];
  return a || 1n;
}
