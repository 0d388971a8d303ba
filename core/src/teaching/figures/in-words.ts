/** Figures in words, for whoever cannot see them. */
import { toText } from "../../base/index.js"
import type { Reason, TimedSign, TimeVoice } from "../../drawing/index.js"
import { LEVEL_NAMES } from "../../reading/index.js"
import { fewWordsWithDot } from "./few-words.js"
import { NEAR, type Passage } from "./passage.js"

/** "breve, 4, gives its last third". */
function signInWords(timed: TimedSign, voice: TimeVoice): string {
  const { reading, held, duration, after } = timed
  const level = LEVEL_NAMES[reading.level ?? ""] ?? "sign"
  const name = `${level}${reading.kind === "rest" ? " rest" : ""}${after.length > 0 ? " with a dot" : ""}`
  const why = fewWordsWithDot(timed, voice)
  return [name, held ? "held" : toText(duration), why].filter(one => one !== "").join(", ")
}

export function passageInWords({ voices, score, from, to }: Passage, reason?: Reason): string {
  const unit = score.unit === "minima" ? "minims" : "tempora"
  const told = voices.map(voice => {
    const signs = voice.signs.filter(one => one.at >= from - NEAR && one.at < to - NEAR)
    const name = voices.length > 1 ? `${voice.voice.label || voice.voice.n}: ` : ""
    return `${name}${signs.map(one => signInWords(one, voice)).join("; ")}.`
  })
  const asked = reason ? ` ${reason.headline}. ${reason.sentences}` : ""
  return `Old signs over bands as long as they last, in ${unit}, over modern notes. ${told.join(" ")}${asked}`
}

/** One line: "breve 4, semibreve with a dot 2". */
export function lineInWords({ voices }: Passage): string {
  return voices
    .flatMap(voice => voice.signs)
    .map(({ reading, duration, after }) => {
      const level = LEVEL_NAMES[reading.level ?? ""] ?? "sign"
      return `${level}${reading.kind === "rest" ? " rest" : ""}${after.length > 0 ? " with a dot" : ""} ${toText(duration)}`
    })
    .join(", ")
}
