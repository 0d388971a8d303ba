/**
 * What the window and the reading desk (a worker) say to each other. The desk has the page too and keeps up with it by the same
 * changes, so that no page travels after the first time.
 */
import type {
  FictaGrade,
  LectureAxis,
  LectureStep,
  Page,
  PageChange,
  Problem,
  ReadOptions,
  SignChange,
  SignId,
  VoiceId,
} from "@resolutio/core"
import type { Told } from "./tell.js"
import type { AccidentalsTold, MeasureTold, MendingTold, RepeatsTold } from "./told-chapters.js"

/** How the time view is wanted, in px. */
export interface TimeWanted {
  readonly width: number
  readonly size: number
  readonly compact: boolean
  /** Numbers of the systems that can be seen, and those near them. */
  readonly see: readonly [first: number, last: number]
}

/** Told to the desk; in the order told. */
export type ToDesk =
  | { readonly do: "open"; readonly revision: number; readonly page: Page }
  | { readonly do: "change"; readonly revision: number; readonly change: PageChange }
  /** The page as it would be with the change, or the page itself again. */
  | { readonly do: "suppose"; readonly revision: number; readonly change?: PageChange }
  | { readonly do: "time"; readonly wanted: TimeWanted | undefined }
  | { readonly do: "see"; readonly see: TimeWanted["see"] }
  /** Slips are no longer looked for. */
  | { readonly do: "leave" }
  | { readonly do: "answer"; readonly ask: number; readonly question: Question }

/** Asked of the desk; each has its answer. */
export type Question =
  | { readonly about: "text"; readonly file: string; readonly text: string }
  | { readonly about: "sign"; readonly sign: SignId }
  | { readonly about: "asked"; readonly sign: SignId }
  /** What is read otherwise by what is supposed. */
  | { readonly about: "effect" }
  | { readonly about: "measure" }
  | { readonly about: "repeats"; readonly voice?: VoiceId }
  /** Undefined when the page has changed while it was looked for, or it was stopped. */
  | { readonly about: "mending" }
  /** Accidentals that the intervals ask for. */
  | { readonly about: "accidentals" }
  /** The score in modern notation, sung with what is proposed up to a grade. */
  | { readonly about: "modern"; readonly accidentals?: FictaGrade }
  | ({ readonly about: "lecture" } & LectureWanted)

export interface Answers {
  text: TextRead
  sign: Told | undefined
  asked: readonly AskedMark[]
  effect: Effect | undefined
  measure: MeasureTold
  repeats: RepeatsTold | undefined
  mending: MendingTold | undefined
  accidentals: AccidentalsTold
  modern: Modern
  lecture: LectureTold
}
export type AnswerTo<Q extends Question> = Answers[Q["about"]]

/** A file's text as a page. */
export type TextRead =
  | { readonly ok: true; readonly page: Page; readonly mei?: string; readonly problems: readonly Problem[] }
  | { readonly ok: false; readonly problems: readonly Problem[] }

/** Modern MEI, or why there is none. */
export type Modern = { readonly ok: true; readonly mei: string } | { readonly ok: false; readonly why: string }

export interface Effect {
  readonly changes: readonly EffectOn[]
  /** Of them, the one that comes first in time. */
  readonly first?: EffectOn
  /** Whether the voices would meet. */
  readonly fit: string
  /** They do as they did. */
  readonly asBefore: boolean
}
/** A sign that is read otherwise; counts, or what a mark is taken for. */
export interface EffectOn {
  readonly sign: SignId
  readonly place: string
  readonly before: string
  readonly after: string
  /** Of both counts; undefined where it is a mark. */
  readonly unit?: SignChange["unit"]
  /** It lasts no more than one of them now. */
  readonly isShort: boolean
}

/** A sheet for the presenter's view: as large as the wall. */
export interface LectureWanted {
  readonly view: "page" | "time"
  /** In px. */
  readonly width: number
  readonly height: number
  readonly zoom: number
  /** Number of the sheet; -1 is the last. Without it, that on which the sign stands, else the first. */
  readonly sheet?: number
  readonly sign?: SignId
}
export interface LectureTold {
  /** The sign with which it begins. */
  readonly first?: SignId
  readonly sheets: number
  readonly sheet: number
  readonly width: number
  readonly height: number
  /** In px: a staff space. */
  readonly unit: number
  /** Of the voices in time; none for the page. */
  readonly axes: readonly LectureAxis[]
  /** What each step that shows something adds, lowest first. */
  readonly layers: readonly { readonly step: LectureStep; readonly svg: string }[]
}

/** What is drawn over a system for the sign that is asked about. */
export interface AskedMark {
  readonly system: number
  readonly svg: string
}

/** A system's place in the picture, and its axis: px from the left at `from`, px in a unit. */
export interface SystemPlace {
  readonly top: number
  readonly height: number
  readonly from: number
  readonly to: number
  readonly left: number
  readonly scale: number
  /** Px of the axis's line, from the top of the system. */
  readonly axisY: number
}

/** Something worth looking at. */
export interface Matter {
  readonly kind: "doubt" | "parting" | "problem"
  /** Where to look first. */
  readonly sign?: SignId
  readonly place: string
  readonly what: string
  readonly mend?: string
  /** In the score's unit; what has no moment stands first. */
  readonly moment: number
}

/** What the voices read together come to. */
export interface ReadSummary {
  /** One sentence on whether those that are written meet; "" where there is no other. */
  readonly fit: string
  /** Names of voices in which nothing stands yet. */
  readonly empty: readonly string[]
  readonly together: boolean
  readonly duration: string
  readonly unit: "minima" | "tempus"
  readonly matters: readonly Matter[]
  /** For reading a voice by itself as it was read with the others. */
  readonly assumed: ReadOptions["assumed"]
}

/** Told to the window. */
export type FromDesk =
  | {
      readonly tell: "read"
      readonly revision: number
      readonly summary: ReadSummary
      /** False while it is still looked for which voice does not fit, and what else is to be said: it is told again. */
      readonly isSettled: boolean
    }
  | {
      readonly tell: "time"
      readonly revision: number
      readonly width: number
      readonly height: number
      /** Free on the left of the names. */
      readonly margin: number
      readonly systems: readonly SystemPlace[]
      readonly description: string
    }
  /** Systems as SVG, by number; those that are as they were told before are left out. `all`: what was told before is void. */
  | {
      readonly tell: "systems"
      readonly all: boolean
      readonly svg: readonly (readonly [number: number, svg: string])[]
    }
  /** How far the search for slips has come, 0 to 1. */
  | { readonly tell: "progress"; readonly share: number }
  | { readonly tell: "answer"; readonly ask: number; readonly answer: unknown }
  | { readonly tell: "failed"; readonly ask?: number; readonly what: string }
