/**
 * Where the voices first part, and what would mend it. The best changes of each step are tried by really reading the
 * changed page together; the best of them is made in thought, and the rest of the page is looked at again.
 */
import { fitOf } from "../../score/index.js"
import { shortPlace, type Page } from "../../page/index.js"
import type { ReadOptions } from "../../reading/index.js"
import { allMeet } from "../hearing.js"
import { readTogether } from "../read-together.js"
import { describe } from "./describe.js"
import { firstParting } from "./first-parting.js"
import { withPitch } from "./guessed-pitch.js"
import { reasonOf } from "./reason.js"
import { Stage } from "./stage.js"
import { triedTogether, type Tried } from "./trial.js"
import { forTwo, type Seen } from "./two-slips.js"
import type { Emendation, Progress, Proposal } from "./types.js"

export interface ProposeOptions extends ReadOptions {
  /** Called now and then; when it returns false the work is left. */
  readonly onProgress?: (progress: Progress) => boolean | void
  /** Changes tried in one step at most (1,000; in pieces of more than a thousand signs fewer, down to 150). */
  readonly most?: number
  /** Slips looked for at most, each when those before it are mended in thought (4). */
  readonly steps?: number
}

const MOST_TRIED = 1000
const LEAST_TRIED = 150
/** Signs read again in one step at most, about. */
const MOST_READ = 1_000_000
/** Steps after which no further slip is looked for. */
const MOST_STEPS = 4

/** Proposes emendations for the page; see `Proposal`. Nothing is changed. Undefined: stopped by `onProgress`. */
export function propose(page: Page, options: ProposeOptions = {}): Proposal | undefined {
  const work = proposing(page, options)
  for (;;) {
    const next = work.next()
    if (next.done) return next.value
    if (options.onProgress?.(next.value) === false) return undefined
  }
}

/** The same as a generator that yields its progress, for those who have other things to do between. */
export function* proposing(page: Page, options: ProposeOptions = {}): Generator<Progress, Proposal> {
  const { onProgress: _, most = usualMost(page), steps = MOST_STEPS, ...given } = options
  // a passage in another modus would make up for the very slip that is looked for
  const reading = { ...given, modusKept: true }
  const sound = readTogether(page, reading)
  const look = function* (at: At, step: number, loose: boolean): Generator<Progress, Seen> {
    const stage = new Stage(at.page, at.together, reading)
    return { stage, tried: triedTogether(stage, yield* stage.weigh(most, step, loose), loose, step) }
  }
  const first = yield* look({ page, together: sound }, 1, !allMeet(sound))
  const parting = firstParting(first.stage)
  const two = steps > 1 ? yield* forTwo(first, one => look(one, 2, false)) : undefined
  const emendations: Emendation[] = []
  let seen: Seen = two ?? first
  for (let step = 1; ; step++) {
    for (const one of seen.tried) emendations.push(told(seen.stage, one, step, emendations.length + 1))
    const best = seen.tried[0]
    if (best === undefined || step === steps) break
    const loose = step === 1 && two?.half === true && !allMeet(best.together)
    seen = (step === 1 ? two?.next : undefined) ?? (yield* look(best, step + 1, loose))
  }
  // where they meet and nothing would mend it, a place that sounds as if they parted is no news
  const fits = fitOf(sound.readings).together
  return { together: fits, firstParting: fits && emendations.length === 0 ? null : parting, emendations }
}

function usualMost({ voices }: Page): number {
  const signs = voices.reduce((sum, voice) => sum + voice.signs.length, 1)
  return Math.max(LEAST_TRIED, Math.min(MOST_TRIED, Math.round(MOST_READ / signs)))
}

/** A page as it is read. */
type At = Pick<Tried, "page" | "together">

function told(stage: Stage, one: Tried, step: number, rank: number): Emendation {
  const { laid, score, gain, together } = one
  const candidate = withPitch(one.candidate, laid, together)
  const at = stage.page.voices.findIndex(voice => voice.id === candidate.voice)
  return {
    rank,
    kind: candidate.kind,
    sign: candidate.sign,
    voice: laid.subject.voice.n,
    place: shortPlace(stage.page, laid.subject.figures[candidate.from]!.sign.id)!,
    ...describe(laid.subject, candidate, stage.together.readings[at]!, together.readings[at]!),
    why: reasonOf(stage, one.page, together, laid),
    score,
    step,
    gain: Math.round(gain * 100) / 100,
    meets: allMeet(together),
    edit: candidate.edit,
    ...(candidate.also && { also: candidate.also }),
  }
}
