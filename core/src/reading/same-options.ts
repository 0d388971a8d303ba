/** Whether a voice would be read by the same options as last time. */
import type { Voice } from "../page/index.js"
import type { ReadOptions } from "./settings.js"

/** What other voices alone are told does not matter. */
export function readAlike(voice: Voice, one: ReadOptions, other: ReadOptions): boolean {
  return (
    one.ignoreGiven === other.ignoreGiven &&
    one.practices === other.practices &&
    one.shapes === other.shapes &&
    one.decisions === other.decisions &&
    one.pageDecisions === other.pageDecisions &&
    found(voice, one) === found(voice, other)
  )
}

/** What was found out, or asked for, as one text. */
const found = (voice: Voice, { practice, assumed, scaled, colours, gaps, shared }: ReadOptions): string =>
  JSON.stringify([
    practice,
    assumed?.get(voice.id),
    scaled?.get(voice.id),
    colours?.get(voice.id),
    gaps && ownOf(voice, gaps),
    shared,
  ])

const ownOf = ({ signs }: Voice, gaps: NonNullable<ReadOptions["gaps"]>) =>
  signs.flatMap(({ kind, id }) => (kind === "other" && gaps.has(id) ? [[id, gaps.get(id)]] : []))
