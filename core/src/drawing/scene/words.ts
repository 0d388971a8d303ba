/** Words as XML has them. */

const FITS_AS_ID = /^[\p{L}\p{N}_][\p{L}\p{N}._:-]*$/u
/** What FITS_AS_ID says of the letters of ASCII: 1 of those that may stand first too. */
const IN_ID = Uint8Array.from({ length: 0x80 }, (_, code) => {
  const letter = String.fromCharCode(code)
  return FITS_AS_ID.test(letter) ? 1 : FITS_AS_ID.test(`a${letter}`) ? 2 : 0
})

/** Ids that stand as they are in every reader; others are data only. */
export function fitsAsId(text: string): boolean {
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i)
    if (code >= 0x80) return FITS_AS_ID.test(text)
    const may = IN_ID[code]
    if (may === 0 || (may === 2 && i === 0)) return false
  }
  return text.length > 0
}

const ESCAPES: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" }

/** Text for XML; characters that XML 1.0 forbids become the replacement character. */
export function escape(text: string): string {
  if (!UNSAFE.test(text)) return text
  return text.replace(FORBIDDEN, "\uFFFD").replace(/[&<>"]/g, one => ESCAPES[one]!)
}
// oxlint-disable-next-line no-control-regex
const UNSAFE = /[&<>"\u0000-\u001F\uD800-\uDFFF\uFFFE\uFFFF]/
// oxlint-disable-next-line no-control-regex
const FORBIDDEN =
  /[\u0000-\u0008\u000B\u000C\u000E-\u001F\uFFFE\uFFFF]|[\uD800-\uDBFF](?![\uDC00-\uDFFF])|(?<![\uD800-\uDBFF])[\uDC00-\uDFFF]/g
