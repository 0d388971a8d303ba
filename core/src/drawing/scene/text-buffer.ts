/**
 * Text as it grows, letter by letter as bytes: a drawing has a hundred thousand small pieces of text, and as strings they would
 * leave more garbage behind than the drawing is long. Text that is not plain ASCII is kept beside the bytes as it is: bytes that
 * are ASCII alone become text several times faster.
 */

import { escape } from "./words.js"

/** What every platform has, though the language's own library does not name it. */
declare const TextDecoder: new () => { decode(bytes: Uint8Array): string }

const MINUS = 45
const POINT = 46
const ZERO = 48
const COMMA = 44
/** A number has at most so many letters. */
const LONGEST = 24
/** So many hundredths are reckoned with as whole numbers of 32 bits. */
const MOST = 0x3fff_ffff
/** So few bytes are copied faster one by one. */
const SHORT = 12
/** Of the letters of ASCII those that stand in XML as they are. */
const IS_PLAIN = Uint8Array.from({ length: 0x80 }, (_, code) =>
  code >= 0x20 && !'&<>"'.includes(String.fromCharCode(code)) ? 1 : 0,
)
const IS_ASCII = new Uint8Array(0x80).fill(1)
const DECODER = new TextDecoder()
const EMPTY = new Uint8Array(0)
/** Bytes that become text at once; more at once are slower. */
const STRETCH = 1 << 14

/** Plain ASCII as bytes: what is written often is copied several times faster so. */
export const bytesOf = (text: string): Uint8Array => Uint8Array.from(text, letter => letter.charCodeAt(0))

/** Writes a whole number; gives where it ends. Nearly all are px of a picture. */
function digits(bytes: Uint8Array, from: number, whole: number): number {
  if (whole >= 10_000) return manyDigits(bytes, from, whole)
  let at = from
  let rest = whole
  if (whole >= 1000) {
    const thousands = (rest / 1000) | 0
    bytes[at++] = ZERO + thousands
    rest -= thousands * 1000
  }
  if (whole >= 100) {
    const hundreds = (rest / 100) | 0
    bytes[at++] = ZERO + hundreds
    rest -= hundreds * 100
  }
  if (whole >= 10) {
    const tens = (rest / 10) | 0
    bytes[at++] = ZERO + tens
    rest -= tens * 10
  }
  bytes[at++] = ZERO + rest
  return at
}

function manyDigits(bytes: Uint8Array, from: number, whole: number): number {
  let end = from + 1
  for (let ten = 10; ten <= whole; ten *= 10) end++
  let rest = whole
  for (let at = end - 1; at >= from; at--) {
    const tens = (rest / 10) | 0
    bytes[at] = ZERO + rest - tens * 10
    rest = tens
  }
  return end
}

/** Writes so many hundredths; gives where they end. */
function writeHundredths(bytes: Uint8Array, from: number, count: number): number {
  let at = from
  let rest = count
  if (rest < 0) {
    bytes[at++] = MINUS
    rest = -rest
  }
  const whole = (rest / 100) | 0
  at = digits(bytes, at, whole)
  rest -= whole * 100
  if (rest === 0) return at
  const tenths = (rest / 10) | 0
  bytes[at++] = POINT
  bytes[at++] = ZERO + tenths
  rest -= tenths * 10
  if (rest > 0) bytes[at++] = ZERO + rest
  return at
}

/** What the last drawing was written into: most are about as long as the one before. */
let spare: Uint8Array | undefined
const MOST_SPARE = 1 << 23

export class TextBuffer {
  #bytes: Uint8Array
  #length = 0
  /** Text that stands before the byte of this number. */
  readonly #others: { readonly at: number; readonly text: string }[] = []

  /** For a drawing; else for small pieces that are cut out again. */
  constructor(whole = true) {
    // most are of one sign; what is larger doubles soon enough
    this.#bytes = (whole ? spare : undefined) ?? new Uint8Array(1 << 10)
    if (whole) spare = undefined
  }

  text(text: string): void {
    if (!this.#put(text, IS_ASCII)) this.#others.push({ at: this.#length, text })
  }

  /** The same, as the value of an attribute in XML: most have no letter that cannot stand as it is. */
  value(text: string): void {
    if (!this.#put(text, IS_PLAIN)) this.text(escape(text))
  }

  /** False, and nothing written, where a letter is not among those that may stand. */
  #put(text: string, may: Uint8Array): boolean {
    const { length } = text
    const from = this.#length
    if (from + length > this.#bytes.length) this.#grow(length)
    const bytes = this.#bytes
    for (let i = 0; i < length; i++) {
      const code = text.charCodeAt(i)
      if (code >= 0x80 || may[code] === 0) return false
      bytes[from + i] = code
    }
    this.#length = from + length
    return true
  }

  /** What another buffer has cut out. */
  bytes(piece: Uint8Array): void {
    const { length } = piece
    const from = this.#length
    if (from + length > this.#bytes.length) this.#grow(length)
    const bytes = this.#bytes
    if (length > SHORT) bytes.set(piece, from)
    else for (let i = 0; i < length; i++) bytes[from + i] = piece[i]!
    this.#length = from + length
  }
  /** With at most two decimals, as short as it can be written. */
  number(value: number): void {
    this.hundredths(Math.round(value * 100))
  }

  /** A name, then so many hundredths. Whole numbers are handed on without being put into a box each time. */
  numbered(name: Uint8Array, count: number): void {
    this.bytes(name)
    this.hundredths(count)
  }

  pair(x: number, y: number): void {
    this.hundredthsPair(Math.round(x * 100), Math.round(y * 100))
  }

  hundredthsPair(x: number, y: number): void {
    this.hundredths(x)
    this.letter(COMMA)
    this.hundredths(y)
  }

  /** So many hundredths: a whole number, or none at all. */
  hundredths(count: number): void {
    // what is no number is neither
    if (!(count <= MOST && count >= -MOST)) return this.text(String(count / 100))
    if (this.#length + LONGEST > this.#bytes.length) this.#grow(LONGEST)
    this.#length = writeHundredths(this.#bytes, this.#length, count | 0)
  }

  /** By its code in ASCII. */
  letter(code: number): void {
    if (this.#length === this.#bytes.length) this.#grow(1)
    this.#bytes[this.#length++] = code
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
  /** As text, once all is written: what it was written into goes to the next. */
  finish(): string {
    const text = this.toString()
    if (this.#bytes.length <= MOST_SPARE) spare = this.#bytes
    this.#bytes = EMPTY
    this.#length = 0
    return text
  }

  #plain(from: number, to: number): string {
    if (from === to) return ""
    let text = ""
    for (let at = from; at < to; at += STRETCH)
      text += DECODER.decode(this.#bytes.subarray(at, Math.min(to, at + STRETCH)))
    return text
  }

  #grow(more: number): void {
    const larger = new Uint8Array(Math.max(this.#bytes.length * 2, this.#length + more))
    larger.set(this.#bytes)
    this.#bytes = larger
  }
}
