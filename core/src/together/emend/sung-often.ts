/**
 * A part that is sung several times stands on the page once, and a slip in it is heard at each singing. It is laid against the
 * others as if it were written out; what is changed is changed in every statement, and costs as one slip.
 */
import { equals, ONE, signId, type SignId } from "../../base/index.js"
import type { Sign, Voice } from "../../page/index.js"
import type { Reading } from "../../reading/index.js"
import { SUNG_AGAIN } from "../../score/sung-signs.js"
import type { Analysis } from "./partings.js"

/** More statements are not laid out. */
const MOST = 12

/** How many times one voice sings the part from end to end as it stands; 1: once, or otherwise than so. */
export function timesSung({ canon }: Reading): number {
  const [voice, ...more] = canon?.voices ?? []
  if (voice === undefined || more.length > 0 || (voice.interval ?? 1) !== 1) return 1
  const plain = voice.statements.every(
    one =>
      equals(one.by, ONE) &&
      !one.sign &&
      !one.reading &&
      !one.backwards &&
      !one.inverted &&
      !one.withoutRests &&
      one.until === undefined,
  )
  return plain ? Math.min(MOST, voice.statements.length) : 1
}

/** The voice with its signs so many times, without what tells that they are sung again. */
export function writtenOut(voice: Voice, times: number): Voice {
  if (times < 2) return voice
  const once = voice.signs.filter(sign => SUNG_AGAIN.has(sign.kind))
  const signs = Array.from({ length: times }, (_, at) => once.map(sign => named(sign, at)))
  return { ...voice, signs: signs.flat() }
}

function named(sign: Sign, at: number): Sign {
  if (at === 0) return sign
  const id = (old: SignId): SignId => signId(`${old}.time${at + 1}`)
  if (sign.kind !== "ligature") return { ...sign, id: id(sign.id) }
  const members = sign.members.map(member => ({ ...member, id: id(member.id) })) as unknown as typeof sign.members
  return { ...sign, id: id(sign.id), members }
}

/** What was found of the part written out, told of its signs as they stand once: the most suspect of the statements counts. */
export function folded(analysis: Analysis, figures: number, times: number): Analysis {
  if (times < 2) return analysis
  const statements = Array.from({ length: times }, (_, at) => at * figures)
  const each = Array.from({ length: figures }, (_, figure) => statements.map(start => start + figure))
  const worst = each.map(all => all.reduce((a, b) => (analysis.partedAt[b]! < analysis.partedAt[a]! ? b : a)))
  return {
    ...analysis,
    jumps: analysis.jumps.map(jump => ({ ...jump, figure: jump.figure % figures })),
    partedAt: worst.map(at => analysis.partedAt[at] ?? Infinity),
    amounts: worst.map(at => analysis.amounts[at] ?? 0),
    leftAt: worst.map(at => analysis.leftAt[at] ?? 0),
    costs: each.map(all => Math.max(...all.map(at => analysis.costs[at] ?? 0))),
    onsets: analysis.onsets.slice(0, figures),
    strengths: analysis.strengths.slice(0, figures),
  }
}
