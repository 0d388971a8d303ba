/** What the lowest band's chapters are told, beside the reason: plain data that travels between threads. */
import type { AccidentalChoice, Emendation, FictaGrade, PageChange, SignId, VoiceId } from "@resolutio/core"

/** What speaks for and against the mensurations that were tried. */
export interface MeasureTold {
  readonly voices: readonly MeasureOfVoice[]
  /** Whether the voices meet as found, and if a level were divided otherwise. */
  readonly fits: readonly string[]
  /** Writes the signs that were found, marked as supplied; undefined where every voice states its own. */
  readonly supply: PageChange | undefined
}
export interface MeasureOfVoice {
  readonly voice: VoiceId
  readonly label: string
  readonly practice: string
  readonly given: boolean
  /** Twice the chance of being wrong. */
  readonly doubt: number
  /** "" where there is no note to tell it from. */
  readonly words: string
  readonly candidates: readonly CandidateTold[]
  readonly changes: readonly { readonly what: string; readonly sign: SignId }[]
  readonly problems: readonly string[]
}
export interface CandidateTold {
  readonly words: string
  readonly chance: number
  /** With those that no note tells from it. */
  readonly shared: number
  /** Labels of voices that are then as long. */
  readonly asLongAs: readonly string[] | undefined
  readonly evidence: readonly EvidenceTold[]
}
export interface EvidenceTold {
  readonly what: string
  /** Natural logarithm of odds; against it when negative. */
  readonly weight: number
  readonly signs: readonly SignId[]
}

/** What comes again in a voice. */
export interface RepeatsTold {
  readonly voice: VoiceId
  readonly label: string
  /** "Two colores, each of two taleae." */
  readonly plan: string
  readonly series: readonly SeriesTold[]
}
export interface SeriesTold {
  readonly words: string
  readonly doubt: number
  /** Heads of the columns: the places of the series. */
  readonly head: readonly string[]
  readonly rows: readonly { readonly number: number; readonly cells: readonly CellTold[] }[]
  readonly differences: readonly { readonly sign: SignId; readonly text: string }[]
}
export interface CellTold {
  readonly sign?: SignId
  /** Pitch of a color, level of a talea; "–" where a sign is missing, "" where the statement has broken off. */
  readonly above: string
  readonly below: string
  /** It differs from its fellows. */
  readonly differs: boolean
}

/** Changes that would mend a slip of the pen. */
export interface MendingTold {
  readonly emendations: readonly EmendationTold[]
  /** The voices meet, and nowhere part for a while. */
  readonly fits: boolean
}
export interface EmendationTold extends Pick<
  Emendation,
  "sign" | "place" | "before" | "after" | "why" | "score" | "step"
> {
  /** Makes it, with a trace. */
  readonly change: PageChange
  /** For the critical report. */
  readonly report: string
}

/** Accidentals that the page does not write. */
export interface AccidentalsTold {
  /** How many of each grade. */
  readonly summary: string
  readonly proposals: readonly ProposedTold[]
  /** Where a rule asks for one and none could be proposed. */
  readonly open: readonly { readonly sign: SignId; readonly place: string; readonly reason: string }[]
  readonly decided: readonly AccidentalDecided[]
}
export interface AccidentalDecided {
  readonly decision: SignId
  readonly sign: SignId
  readonly place: string
  readonly words: string
  readonly reason: string
}
export interface ProposedTold {
  readonly sign: SignId
  readonly place: string
  /** "b flat". */
  readonly sung: string
  readonly grade: FictaGrade
  readonly reason: string
  readonly source: string
  /** Its own, then those of the notes that can only be sung with it. */
  readonly choices: readonly AccidentalChoice[]
  /** Signs of the same voice, its own among them, for which the same accidental is proposed for the same reason. */
  readonly alike: readonly SignId[]
  /** What they have in common: "cantus, sixth to octave, sharp". */
  readonly kind: string
}
