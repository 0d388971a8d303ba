/** The voices of a piece on their common axis. */
import { ONE, over, times, toNumber, type Rational, type SignId } from "../../base/index.js"
import type { Reading } from "../../reading/index.js"
import type { ScoreVoice } from "../../score/index.js"
import { shapesOf } from "../signs/index.js"
import type { TimedSpan } from "./divisions.js"
import { signsReadAgain } from "./read-again.js"
import { sameInput } from "./same.js"
import type { TimedSign, TimeInput, TimeVoice, VoiceInput } from "./timeline.js"
import { VoiceWalk } from "./voice-walk.js"

/** Voices in the score's order. A voice that has no reading is left out. `before` are those of the last layout. */
export function timeVoices({ page, readings, score }: TimeInput, before: readonly TimeVoice[] = []): TimeVoice[] {
  const shapes = shapesOf(page.shapes)
  const decided = new Set((page.decisions ?? []).map(one => one.sign))
  return score.voices.flatMap(scoreVoice => {
    const voice = page.voices.find(one => one.id === scoreVoice.id)
    const reading = readings.find(one => one.voice === scoreVoice.id)
    const known = before.find(one => one.voice.id === scoreVoice.id)
    return voice && reading ? [timeVoice({ voice, reading, scoreVoice, decided, shapes }, known)] : []
  })
}

/** How many units of the score one unit of the voice lasts. */
function factorOf(reading: Reading, { events }: ScoreVoice): Rational {
  for (const event of events) {
    const own = event.kind === "note" ? reading.signs.find(sign => sign.id === event.id) : undefined
    if (event.kind === "note" && own && own.duration.num > 0) return over(event.readDuration, own.duration)
  }
  return ONE
}

type Walked = Pick<TimeVoice, "signs" | "style" | "inOrder" | "heads" | "tail" | "capitals">

function walked(input: VoiceInput, factor: Rational, spans: readonly TimedSpan[], before?: TimeVoice): Walked {
  const walk = new VoiceWalk(input, factor, spans, before)
  const { signs, inOrder, heads, tail, capitals } = walk.all()
  return { style: walk.style, signs, inOrder, heads, tail, capitals }
}

const asBefore = ({ style, inOrder, heads, tail, capitals }: TimeVoice): Omit<Walked, "signs"> => ({
  style,
  inOrder,
  heads,
  tail,
  capitals,
})

function timeVoice(input: VoiceInput, before?: TimeVoice): TimeVoice {
  if (before && sameInput(before, input)) return before
  const { voice, reading, scoreVoice, decided } = input
  const factor = factorOf(reading, scoreVoice)
  const spans = reading.mensurations.map(span => ({
    span,
    unit: reading.unit,
    at: toNumber(times(span.onset, factor)),
    scale: over(factor, span.proportion.num > 0 ? span.proportion : ONE),
  }))
  const again = before && signsReadAgain(before, input, spans)
  const { signs, ...rest } = again ? { ...asBefore(before), signs: again } : walked(input, factor, spans, before)
  let byId: Map<SignId, TimedSign> | undefined
  return {
    voice,
    events: scoreVoice.events,
    reading,
    signs,
    ...rest,
    spans,
    finalAt: signs.findLast(sign => sign.held)?.at ?? Infinity,
    get byId() {
      return (byId ??= new Map(signs.map(timed => [timed.sign.id, timed])))
    },
    decided,
  }
}
