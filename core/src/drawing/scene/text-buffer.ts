/**
 * Text as it grows, letter by letter in UTF-8: a drawing has a hundred thousand small pieces of text, and as strings they would
 * leave more garbage behind than the drawing is long.
 */

/** What every platform has, though the language's own library does not name it. */
declare const TextDecoder: new () => { decode(bytes: Uint8Array): string }

const MINUS = 45
const POINT = 46
const ZERO = 48

export class TextBuffer {
  #bytes = new Uint8Array(1 << 16)
  #length = 0

  text(text: string): void {
    const { length } = text
    this.#room(length * 3)
    const bytes = this.#bytes
    let at = this.#length
    for (let i = 0; i < length; i++) {
      const code = text.charCodeAt(i)
      if (code < 0x80) bytes[at++] = code
      else {
        const point = text.codePointAt(i)!
        if (point > 0xffff) i++
        at = encode(point, bytes, at)
      }
    }
    this.#length = at
  }

  /** What another buffer has cut out. */
  bytes(piece: Uint8Array): void {
    this.#room(piece.length)
    this.#bytes.set(piece, this.#length)
    this.#length += piece.length
  }

  /** With at most two decimals, as short as it can be written. */
  number(value: number): void {
    this.hundredths(Math.round(value * 100))
  }

  /** So many hundredths. */
  hundredths(count: number): void {
    if (!Number.isSafeInteger(count)) return this.text(String(count / 100))
    this.#room(24)
    let rest = count
    if (count < 0) {
      this.#bytes[this.#length++] = MINUS
      rest = -count
    }
    const decimals = rest % 100
    this.#digits((rest - decimals) / 100)
    if (decimals === 0) return
    const tenths = (decimals - (decimals % 10)) / 10
    this.#bytes[this.#length++] = POINT
    this.#bytes[this.#length++] = ZERO + tenths
    if (decimals % 10 > 0) this.#bytes[this.#length++] = ZERO + (decimals % 10)
  }

  #digits(whole: number): void {
    let count = 1
    for (let ten = 10; ten <= whole; ten *= 10) count++
    const end = this.#length + count
    let rest = whole
    for (let at = end - 1; at >= this.#length; at--) {
      const digit = rest % 10
      this.#bytes[at] = ZERO + digit
      rest = (rest - digit) / 10
    }
    this.#length = end
  }

  get length(): number {
    return this.#length
  }
  /** What was written since `from`, and takes it away. */
  cut(from: number): Uint8Array {
    const piece = this.#bytes.slice(from, this.#length)
    this.#length = from
    return piece
  }
  toString(): string {
    return new TextDecoder().decode(this.#bytes.subarray(0, this.#length))
  }

  #room(more: number): void {
    if (this.#length + more <= this.#bytes.length) return
    const larger = new Uint8Array(Math.max(this.#bytes.length * 2, this.#length + more))
    larger.set(this.#bytes)
    this.#bytes = larger
  }
}

function encode(point: number, bytes: Uint8Array, at: number): number {
  if (point < 0x800) {
    bytes[at] = 0xc0 | (point >> 6)
    bytes[at + 1] = 0x80 | (point & 0x3f)
    return at + 2
  }
  if (point < 0x10000) {
    bytes[at] = 0xe0 | (point >> 12)
    bytes[at + 1] = 0x80 | ((point >> 6) & 0x3f)
    bytes[at + 2] = 0x80 | (point & 0x3f)
    return at + 3
  }
  bytes[at] = 0xf0 | (point >> 18)
  bytes[at + 1] = 0x80 | ((point >> 12) & 0x3f)
  bytes[at + 2] = 0x80 | ((point >> 6) & 0x3f)
  bytes[at + 3] = 0x80 | (point & 0x3f)
  return at + 4
}
