/** Ids of the modern score: those of the page, made fit for XML where they must be. */

/**
 * The `xml:id` under which a sign of the page stands in modern MEI, SVG and everything made from them: its own, or, where
 * XML would not take it as a name, with an "s" before and "_" for what no name may hold ("1.12" becomes "s1.12").
 * A note that is split keeps it for its first part.
 */
export function scoreId(id: string): string {
  if (/^[\p{L}_][\p{L}\p{N}_.\-]*$/u.test(id)) return id
  const safe = id.replace(/[^\p{L}\p{N}_.\-]/gu, "_")
  return /^[\p{L}_]/u.test(safe) && safe === id ? safe : `s${safe}`
}

/** Part 0 has the id of the sign, those after it have ".part2", ".part3" … */
export function partId(id: string, part: number): string {
  return part === 0 ? scoreId(id) : `${scoreId(id)}.part${part + 1}`
}

export function plicaId(id: string): string {
  return `${scoreId(id)}.plica`
}
