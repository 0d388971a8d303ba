/** The score: when everything sounds, in exact time, with what the page says of each note. */
import type { Problem, Rational, SignId, VoiceId } from "../base/index.js"
import type {
  Accidental,
  Break,
  Coloration,
  Mark,
  MensurationSign,
  Proportion,
  Signature,
  Step,
  Stroke,
  Syllable,
} from "../page/index.js"
import type { Unit } from "../reading/types.js"
import type { Form } from "./form.js"

export interface ScoreSyllable extends Syllable {
  /** The page has "ij" for it. */
  readonly repeated?: boolean
}

export interface ScorePitch {
  readonly step: Step
  /** In force, as MEI writes it; "" where none is. */
  readonly accidental: Accidental
  readonly octave: number
}

export interface ScorePlica {
  /** Its share of the note's time in the score's unit; null when the note keeps it undivided. */
  readonly duration: Rational | null
  readonly pitch: ScorePitch | null
}

/** An editor's hand on a note or rest: the source has nothing there, or something else. */
export type EditorHand = "supplied" | "corr"

export interface ScoreNote {
  readonly kind: "note"
  /** Unlike any other of the score. The first time a sign of the page is sung it is that sign's own. */
  readonly id: SignId
  /** The sign of the page that it stands for: several notes of a score do where a part is sung in canon or again. */
  readonly sign: SignId
  readonly onset: Rational
  /** As the score has it: a held final lasts to the common end. */
  readonly duration: Rational
  /** As the reading has it. */
  readonly readDuration: Rational
  readonly pitch: ScorePitch | null
  /** The accidental that stands before the note on the page. */
  readonly written?: { readonly accidental: Accidental; readonly byEditor: boolean }
  readonly plica?: ScorePlica
  readonly hand?: EditorHand
  /** On the dot behind it that keeps it whole or adds half. */
  readonly dotHand?: EditorHand
  /** Only of a note that a plica became: the note that bears it. */
  readonly plicaOf?: SignId
  readonly coloration: Coloration
  readonly fermata: boolean
  /** The final of its voice, held freely. */
  readonly held: boolean
  /** The note before the last at a finis punctorum: held, though counted as it stands. */
  readonly penultimateHeld?: boolean
  readonly syllables: readonly ScoreSyllable[]
}

export interface ScoreRest {
  readonly kind: "rest"
  /** Null for silence that no sign of the page stands for: after the last sign of a voice that ends early. */
  readonly id: SignId | null
  /** The sign of the page that it stands for. */
  readonly sign: SignId | null
  readonly onset: Rational
  readonly duration: Rational
  readonly hand?: EditorHand
  readonly fermata: boolean
}

export type ScoreEvent = ScoreNote | ScoreRest

/** A ligature or a stretch of coloration, from the first note to the last. */
export interface ScoreBracket {
  readonly kind: "ligature" | "coloration"
  readonly from: SignId
  readonly to: SignId
}

/** What a performer must know of that has no length: repeats, endings, signa, rubrics. */
export interface ScoreMark {
  /** Unlike any other of the score, as that of a note is. */
  readonly id: SignId
  /** The mark of the page. */
  readonly sign: SignId
  /** Of the note or rest that follows it; after the last, where the voice ends. */
  readonly onset: Rational
  readonly of: Mark["of"]
  readonly text?: string
}

/** A sign of the page that lasts nothing, where it stands in time. */
interface Placed {
  /** Of the note or rest that follows it; after the last, where the voice ends. */
  readonly onset: Rational
  /** The note or rest of the score that follows it; null after the last. */
  readonly before: SignId | null
}

/** A sign of mensuration or proportion as it is written: circle or C, dots, strokes, figures. */
export interface ScoreSign extends Placed {
  readonly written: MensurationSign | Proportion
}
/** Where a folio, a column or a line of the page begins. */
export interface ScoreBreak extends Placed {
  readonly written: Break
}
/** A division stroke, suspirium, finis punctorum or other bar of the page. */
export interface ScoreStroke extends Placed {
  readonly written: Stroke
}

/** How the bars of a voice run from an onset on. */
export interface ScoreMensuration {
  readonly onset: Rational
  /** Bar, then the periods that divide it (beats, then what they divide into), in the score's unit. */
  readonly periods: readonly Rational[]
}

/** How a voice comes out of its part. */
export interface ScoreCanon {
  /** Which of the voices sung from the part, from 1, and how many there are. */
  readonly number: number
  readonly of: number
  /** In English: "2 breves later, a fifth below". */
  readonly words: string
}

export interface ScoreVoice {
  /** Unlike any other of the score; of the first voice sung from a written part, the part's own. */
  readonly id: VoiceId
  /** The voice of the page that it is sung from. */
  readonly part: VoiceId
  /** Where it is sung in canon, or otherwise than once as it is written. */
  readonly canon?: ScoreCanon
  readonly n: string
  readonly label: string
  readonly practice: string
  /** Without gap from 0 to the score's duration. */
  readonly events: readonly ScoreEvent[]
  /** The first at onset 0. */
  readonly mensurations: readonly ScoreMensuration[]
  readonly signatures: readonly { readonly onset: Rational; readonly accidentals: Signature["accidentals"] }[]
  readonly brackets: readonly ScoreBracket[]
  /** In the order of the page, as are those that follow. */
  readonly marks: readonly ScoreMark[]
  readonly signs: readonly ScoreSign[]
  readonly breaks: readonly ScoreBreak[]
  readonly strokes: readonly ScoreStroke[]
  /** Where a section is closed by a finis punctorum. */
  readonly sectionEnds: readonly Rational[]
}

/** Where one voice stands when its final begins, and how far that is from where most voices stand. */
export interface VoiceFit {
  readonly voice: VoiceId
  readonly label: string
  readonly finalOnset: Rational
  readonly by: Rational
}

/** The `fit` of the JSON contract, and by how much each voice misses the others. */
export interface Fit {
  readonly together: boolean
  /** As exact text, finals included. */
  readonly durations: readonly string[]
  readonly firstParting: { readonly onset: string; readonly signs: readonly SignId[] } | null
  readonly unit: Unit
  /** How the units of the voices were compared, where they differ. */
  readonly equivalence?: string
  /** Where they do not meet at their finals: when each begins its own, as exact text. */
  readonly finals?: readonly string[]
  /** Not together, yet at their finals they are: they part at the end of a section or at a signum congruentiae. */
  readonly finalsMeet?: true
  /** They part before their finals: at the end of a section or at a signum congruentiae. */
  readonly missed?: MissedPlace
}

/** Where all voices should stand together and do not. */
export interface MissedPlace {
  readonly kind: "section" | "signum"
  /** The first, the second … of its kind, from 1. */
  readonly number: number
  /** When each voice has it, as exact text in the unit of the fit. */
  readonly voices: readonly { readonly label: string; readonly onset: string }[]
}

/** Voices under one another on one scale of time: moments and durations are in the unit, as exact fractions. */
export interface Score {
  readonly title: string
  readonly unit: Unit
  /** One sentence: how the units of the voices were compared; null where all have one unit. */
  readonly equivalence: string | null
  /** The practice most voices are in; it sets the reduction and the speed. */
  readonly practice: string
  /** A proportion or stroke that all voices have from the start: the modern values cancel it. 1 when there is none. */
  readonly sharedProportion: Rational
  readonly voices: readonly ScoreVoice[]
  readonly duration: Rational
  readonly fit: Fit
  readonly voiceFits: readonly VoiceFit[]
  /** Its parts and strophes, where marks or stanzas tell of several and they are not written out. */
  readonly form?: Form
  readonly problems: readonly Problem[]
}
