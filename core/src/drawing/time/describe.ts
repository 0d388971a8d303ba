/** The picture in words, for whoever cannot see it. */
import { toText } from "../../base/index.js"
import type { Score } from "../../score/index.js"
import type { Reason } from "./reason.js"
import { SHOWN_DOUBT } from "./rivals.js"
import type { TimeVoice } from "./timeline.js"

export function describeTime(voices: readonly TimeVoice[], score: Score, reason: Reason | undefined): string {
  const unit = score.unit === "minima" ? "minims" : "tempora"
  const count = `${voices.length} ${voices.length === 1 ? "voice" : "voices"} over one axis of ${toText(score.duration)} ${unit}.`
  const meet =
    score.problems.find(one => one.code === "voices-part")?.what ?? (voices.length > 1 ? "The voices meet." : "")
  const asked = reason ? `Asked about: ${reason.place}. ${reason.headline}. ${reason.sentences}` : ""
  return [count, ...voices.map(describeVoice), meet, asked].filter(one => one !== "").join(" ")
}

function describeVoice({ voice, signs }: TimeVoice): string {
  const notes = signs.filter(({ sign }) => sign.kind === "note")
  const told = (rule: (one: TimeVoice["signs"][number]) => boolean, what: string): string[] => {
    const n = signs.filter(rule).length
    return n === 0 ? [] : [`${n} ${what}`]
  }
  const parts = [
    `${notes.length} ${notes.length === 1 ? "note" : "notes"}`,
    ...told(({ reading }) => reading.rule.startsWith("imperfectio"), "made imperfect"),
    ...told(({ reading }) => reading.quality === "altera", "doubled"),
    ...told(({ reading }) => reading.doubt >= SHOWN_DOUBT, "in doubt"),
  ]
  return `${voice.label || `Voice ${voice.n}`}: ${parts.join(", ")}.`
}
