/**
 * Text as it grows, letter by letter as bytes: a drawing has a hundred thousand small pieces of text, and as strings they would
 * leave more garbage behind than the drawing is long. Text that is not plain ASCII is kept beside the bytes as it is: bytes that
 * are ASCII alone become text several times faster.
 */

/** What every platform has, though the language's own library does not name it. */
declare const TextDecoder: new () => { decode(bytes: Uint8Array): string }

const MINUS = 45
const POINT = 46
const ZERO = 48
const DECODER = new TextDecoder()
/** Bytes that become text at once; more at once are slower. */
const STRETCH = 1 << 14

export class TextBuffer {
  // most are of one sign; what is larger doubles soon enough
  #bytes = new Uint8Array(1 << 10)
  #length = 0
  /** Text that stands before the byte of this number. */
  readonly #others: { readonly at: number; readonly text: string }[] = []

  text(text: string): void {
    const { length } = text
    this.#room(length)
    const bytes = this.#bytes
    const from = this.#length
    for (let i = 0; i < length; i++) {
      const code = text.charCodeAt(i)
      if (code >= 0x80) return void this.#others.push({ at: from, text })
      bytes[from + i] = code
    }
    this.#length = from + length
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
  /** What was written since `from`, which must be plain ASCII; takes it away. */
  cut(from: number): Uint8Array {
    if ((this.#others.at(-1)?.at ?? -1) > from) throw new Error("TextBuffer.cut: there is text that is not plain ASCII")
    const piece = this.#bytes.slice(from, this.#length)
    this.#length = from
    return piece
  }
  toString(): string {
    let text = ""
    let from = 0
    for (const other of this.#others) {
      text += this.#plain(from, other.at) + other.text
      from = other.at
    }
    return text + this.#plain(from, this.#length)
  }

  #plain(from: number, to: number): string {
    if (from === to) return ""
    let text = ""
    for (let at = from; at < to; at += STRETCH)
      text += DECODER.decode(this.#bytes.subarray(at, Math.min(to, at + STRETCH)))
    return text
  }

  #room(more: number): void {
    if (this.#length + more <= this.#bytes.length) return
    const larger = new Uint8Array(Math.max(this.#bytes.length * 2, this.#length + more))
    larger.set(this.#bytes)
    this.#bytes = larger
  }
}
