/** The practice's weights made to fit what the voices sound where they do not part; see `adaptedTo`. */
import { adaptedTo, Heard, type CounterpointWeights } from "../../counterpoint/index.js"
import type { Laid } from "./stage.js"

/** What of a voice is needed for it. */
type Sounded = Pick<Laid, "line" | "analysis" | "backdrop" | "subject">

export function adapted(all: readonly Sounded[], { backdrop }: Pick<Laid, "backdrop">): CounterpointWeights {
  const heard = new Heard()
  for (const { line, analysis, backdrop: others, subject } of all)
    analysis.onsets.forEach((onset, i) => {
      const tone = line.graph.tones[i]!
      const end = analysis.onsets[i + 1]
      if (Number.isNaN(tone.step) || end === undefined || subject.figures[i] === undefined) return
      others.met(tone, onset, (pair, together, kind) => heard.add(pair, together, analysis.strengths[i]!, kind))
    })
  return adaptedTo(
    backdrop.weights,
    heard,
    all.map(({ line }) => line.graph.tones),
  )
}
