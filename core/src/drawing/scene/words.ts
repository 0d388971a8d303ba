/** Words as XML has them. */

/** Ids that stand as they are in every reader; others are data only. */
export const FITS_AS_ID = /^[\p{L}\p{N}_][\p{L}\p{N}._:-]*$/u

const ESCAPES: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" }

/** Text for XML; characters that XML 1.0 forbids become the replacement character. */
export function escape(text: string): string {
  if (PLAIN.test(text)) return text
  return text.replace(FORBIDDEN, "\uFFFD").replace(/[&<>"]/g, one => ESCAPES[one]!)
}
const PLAIN = /^[\w .,;:'()-]*$/
// oxlint-disable-next-line no-control-regex
const FORBIDDEN =
  /[\u0000-\u0008\u000B\u000C\u000E-\u001F\uFFFE\uFFFF]|[\uD800-\uDBFF](?![\uDC00-\uDFFF])|(?<![\uD800-\uDBFF])[\uDC00-\uDFFF]/g
