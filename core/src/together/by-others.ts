/** What the other voices decided is marked in the reading of a voice. */
import { equals, type Rational, type SignId } from "../base/index.js"
import type { OthersReason, Reading, SignReading } from "../reading/types.js"

/** A doubt that the voice alone had, and so much smaller a one now: the others settled it. */
const SETTLED_FROM = 0.1
const SETTLED_BY = 0.5

/**
 * Marks what the other voices decided. `alone`: the voice read by itself; `reading`: with the others; `expected`: how long a
 * note lasts where what stands there stood before.
 */
export function byOthers(
  alone: Reading,
  reading: Reading,
  reasons: () => ReadonlyMap<SignId, OthersReason>,
  expected: ReadonlyMap<SignId, Rational>,
): Reading {
  let known: ReadonlyMap<SignId, OthersReason> | undefined
  const signs = reading.signs.map((sign, i): SignReading => {
    const before = alone.signs[i]!
    if (sign.decidedBy !== "voice" || sign.number === 0) return sign
    const overruled = !equals(before.duration, sign.duration)
    const settled = before.doubt >= SETTLED_FROM && sign.doubt <= SETTLED_BY * before.doubt
    if (!overruled && !settled) return sign
    const repeated = expected.get(sign.id)
    const reason: OthersReason | undefined =
      repeated !== undefined && equals(repeated, sign.duration)
        ? { how: "repeat", voices: [], signs: [] }
        : (known ??= reasons()).get(sign.id)
    if (reason === undefined) return sign
    return { ...sign, decidedBy: "others", others: { ...reason, ...(overruled ? { alone: before.duration } : {}) } }
  })
  return { ...reading, signs }
}
