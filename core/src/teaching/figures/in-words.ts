/** Figures in words, for whoever cannot see them. */
import { ratio, toText } from "../../base/index.js"
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

/**
 * Which voices and which stretch of time one of several pictures shows, and where the other voices stand over the same stretch:
 * "Part 2 of 3: tenor and bassus, minims 24 to 48. The same stretch of time in cantus and altus: picture 3."
 */
export function placeInWords(stretches: readonly (readonly Passage[])[], i: number): string {
  const each = stretches[0]!.length
  const own = Math.floor(i / each)
  const groups = stretches[own]!
  const passage = groups[i % each]!
  const unit = passage.score.unit === "minima" ? "minims" : "tempora"
  const time = `${unit} ${momentText(passage.from)} to ${momentText(passage.to)}`
  const part = stretches.length > 1 ? `Part ${own + 1} of ${stretches.length}: ` : ""
  if (each < 2) return `${part}${time}.`
  const others = groups.flatMap((one, n) => (one === passage ? [] : [`${namesOf(one)}: picture ${own * each + n + 1}`]))
  return `${part}${namesOf(passage)}, ${time}. The same stretch of time in ${others.join("; in ")}.`
}

const momentText = (moment: number): string => toText(ratio(Math.round(moment * 5040), 5040))

/** How voices are shared among pictures, for whoever asked for them. */
export function groupsInWords(stretches: readonly (readonly Passage[])[], staves: boolean): string {
  const groups = stretches[0]!
  const all = stretches.length > 1 ? "each stretch of time" : "the passage"
  return `One picture has no room for all voices${staves ? " with modern staves" : ""}: ${all} stands in ${groups.length}, ${groups.map(namesOf).join("; ")}.`
}

/** "cantus, altus and tenor". */
function namesOf({ voices }: Pick<Passage, "voices">): string {
  const names = voices.map(({ voice }) => voice.label || `voice ${voice.n}`)
  return names.length < 2 ? names.join("") : `${names.slice(0, -1).join(", ")} and ${names.at(-1)}`
}
