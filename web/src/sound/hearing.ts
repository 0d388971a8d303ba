/** How a piece is heard: everything that can be chosen, as it is kept and as the core takes it. */
import {
  EQUIVALENCES,
  intervalFrom,
  timeFromText,
  type Equivalence,
  type EquivalenceDecision,
  type PerformanceOptions,
  type Rational,
  type Tempo,
  type Timbre,
  type Tuning,
  type TuningTable,
  type VoiceId,
  type VoiceSound,
} from "@resolutio/core"

export type VoiceHearing = Partial<VoiceSound>

/** What stays equal at one change of sign: a value, or "3/2" for a unit so much faster. */
export interface ChangeHearing {
  /** In the score's unit: "24", "27/2". */
  readonly onset: string
  readonly keeps: string
}

export interface Hearing {
  /** 1 as it is usually sung; 0.5 half as fast. */
  readonly speed: number
  /** Four beats are counted before it. */
  readonly countIn: boolean
  readonly timbre: Timbre
  /** Without it by practice, as an editor's estimate. */
  readonly tempo?: Tempo
  /** Without it by practice. */
  readonly tuning?: Tuning
  /** When the piece was written, for the usual tuning. */
  readonly year?: number
  /** What stays equal where all voices change their sign; without it as the practice says. */
  readonly equivalence?: Equivalence
  /** Hertz of the a above the middle c; 440 without it. */
  readonly reference?: number
  /** All so much higher or lower, to suit singers: "-P4". */
  readonly shift?: string
  /** For single changes; the others as `equivalence` has it. */
  readonly changes?: readonly ChangeHearing[]
  /** A note with a fermata lasts so many times as long. */
  readonly fermata?: number
  /** The final sounds at least so many seconds. */
  readonly final?: number
  readonly plica?: (typeof PLICAS)[number]
  /** Sung as often as the page has it; stanza after stanza too; or once. "written" without it. */
  readonly repeats?: (typeof REPEATS)[number]
  /** Beats counted before it; 4 without it. */
  readonly beats?: number
  readonly voices: Readonly<Record<VoiceId, VoiceHearing>>
}

export const USUAL_HEARING: Hearing = { speed: 1, countIn: false, timbre: "voices", voices: {} }

/** Intervals by which singers are suited: up and down, to an octave. */
export const SHIFTS = ["-P8", "-P5", "-P4", "-M3", "-m3", "-M2", "M2", "m3", "M3", "P4", "P5", "P8"]

export const PLICAS = ["sung", "read", "unsung"] as const
export const REPEATS = ["written", "stanzas", "signs"] as const

/** What a change keeps; undefined where the words say nothing that can be kept. */
export function keepsFrom(text: string): Equivalence | Rational | undefined {
  const named = EQUIVALENCES.find(one => one === text.trim())
  const ratio = named ? undefined : timeFromText(text.trim())
  return named ?? (ratio && ratio.num / ratio.den >= 1 / 16 && ratio.num / ratio.den <= 16 ? ratio : undefined)
}

/** As the core takes it; undefined where the moment or what is kept cannot be read. */
export function changeFrom({ onset, keeps }: ChangeHearing): EquivalenceDecision | undefined {
  const [at, kept] = [timeFromText(onset.trim()), keepsFrom(keeps)]
  return at && kept ? { onset: at, keeps: kept } : undefined
}

/** A table of one's own as it is typed: a line for each note. */
export const tableText = ({ cents }: TuningTable): string =>
  Object.entries(cents)
    .map(([note, above]) => `${note} ${Math.round(above * 1000) / 1000}`)
    .join("\n")

export function performanceOptions(hearing: Hearing): PerformanceOptions {
  const { shift, voices, changes = [], countIn: _, repeats: __, beats: ___, ...more } = hearing
  const interval = shift === undefined ? undefined : intervalFrom(shift)
  return {
    ...more,
    decisions: changes.flatMap(one => changeFrom(one) ?? []),
    ...(interval ? { shift: interval } : {}),
    voices: new Map(Object.entries(voices) as [VoiceId, VoiceHearing][]),
  }
}
