/** The smallest single replacement that makes one text into another: whoever stands elsewhere in the text stays there. */
export function changeBetween(before: string, after: string): { from: number; to: number; insert: string } {
  const shorter = Math.min(before.length, after.length)
  let start = 0
  while (start < shorter && before.charCodeAt(start) === after.charCodeAt(start)) start++
  let end = 0
  while (end < shorter - start && before.at(-1 - end) === after.at(-1 - end)) end++
  return { from: start, to: before.length - end, insert: after.slice(start, after.length - end) }
}
