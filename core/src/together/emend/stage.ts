/**
 * One step of the search for slips. Each voice in turn is laid against the others, which are read together without it;
 * single changes of it that make it read better by more than they cost as slips are kept, the most suspect places first.
 */
import { concordsAlike, type CounterpointWeights } from "../../counterpoint/index.js"
import type { Rational, SignId } from "../../base/index.js"
import type { Page, Voice } from "../../page/index.js"
import { layVoice, workVoice, type WorkedVoice } from "../../reading/read-voice.js"
import { withPageOptions } from "../../reading/rulings.js"
import { rereadVoice, type Reading } from "../../reading/index.js"
import type { ReadOptions } from "../../reading/settings.js"
import { soundingOf } from "../../score/sounding.js"
import { readTogether, type Together } from "../read-together.js"
import { sharedOf } from "../shared.js"
import { sungAfter } from "../sung.js"
import { Backdrop, type Factor } from "../backdrop.js"
import { subjectOf, type Candidate, type Subject } from "./candidates.js"
import { changed, editedThroughout, freshIds } from "./changed-page.js"
import { edited } from "./figures.js"
import { contradicted } from "./custodes.js"
import { Parallels } from "./parallels.js"
import { Habits } from "./habits.js"
import { costOfRun } from "./inks.js"
import { prepared, totalAfter, type Prepared } from "./changed-line.js"
import { factorFor, lineOf, slotOf, type Line } from "./laid.js"
import { analyse, type Analysis } from "./partings.js"
import { Silences } from "./silences.js"
import { Statements } from "./statements.js"
import { folded, timesSung, writtenOut } from "./sung-often.js"
import { Metre } from "./metre.js"
import { Melody } from "./melody.js"
import { besideOf, savedWithin, shifted } from "./pitches.js"
import { adapted } from "./sonority.js"
import { candidatesOf, isOneOfMany, suspicionOf } from "./suspects.js"
import type { Progress } from "./types.js"
import { Underlay } from "./underlay.js"
import { distinct, silencedBy, weighed, type Weighed } from "./weighed.js"
import { CUSTOS_WRONG, LEAST_EVIDENCE, SHIFT_BY_SIZE, SMALL_PIECE, UNEXPLAINED, WORTH_A_TRIAL } from "./weights.js"

/** A voice laid against the others. */
export interface Laid {
  /** The voice by itself; one that is sung several times as if it were written out. */
  readonly worked: WorkedVoice
  readonly times: number
  readonly subject: Subject
  readonly backdrop: Backdrop
  readonly factor: Factor
  readonly line: Line
  readonly analysis: Analysis
  /** What the page costs as it is, as far as this voice goes: whole, or parting for no known reason. */
  readonly asItIs: number
  readonly habits: Habits
  readonly underlay: Underlay
}

/** Kinds whose signs only stand for what is lost or copied: the voices' habits say nothing of them. */
const STAND_INS: ReadonlySet<string> = new Set(["passage-missing", "passage-doubled"])
const PROGRESS_EVERY = 50
/** In a canon alone all that is sung has to be read anew with each change, which takes some ten times as long. */
const MOST_ALONE = 250
const PROGRESS_ALONE = 5
/** So much more suspect than others a place has to be there for kinds that could be made in many ways. */
const LATER_ALONE = UNEXPLAINED / 2

export class Stage {
  /** The voices as they are laid first; by what all of them do only when they are asked about. */
  private readonly first: readonly FirstLaid[]
  private readonly metre: Metre
  private readonly known: Laid[] = []
  private readonly prepared = new Map<Laid, Prepared>()
  /** As in the reading of the whole page, for every reading of parts of it. */
  readonly options: ReadOptions
  /** The same, but for what was found out of mensurations. */
  readonly unassumed: ReadOptions
  private readonly reading: ReadOptions
  private readonly melody: Melody
  private readonly notes: number
  private readonly statements: Statements
  private readonly silences: Silences
  /** A canon without other voices: what is changed in it is changed in all that is sung from it. */
  readonly alone: boolean
  private readonly parallels: Parallels

  constructor(
    readonly page: Page,
    readonly together: Together,
    options: ReadOptions,
  ) {
    this.unassumed = { ...options, shared: sharedOf(together.worked) }
    this.options = { ...this.unassumed, assumed: together.assumed }
    this.reading = withPageOptions(page, this.options)
    this.melody = new Melody(page.voices)
    this.notes = together.readings.reduce((sum, { signs }) => sum + signs.length, 0)
    this.statements = new Statements(page, together.worked, together.readings, this.reading)
    const fresh = freshIds(page)
    this.silences = new Silences(together.worked)
    const heard = page.voices.flatMap((voice, i) => {
      const worked = together.worked[i]!
      return worked.settled.some(({ stretch }) => stretch.figures.length > 0) ? [{ voice, worked }] : []
    })
    this.alone = heard.length === 1
    const isFit = heard.length > 1 || heard.some(({ worked }) => isSungAgainstItself(worked.reading))
    this.first = isFit ? heard.map(({ voice, worked }) => this.lay(voice, worked, fresh)) : []
    this.metre = metreOf(this.first)
    this.parallels = new Parallels(this.first.map(({ line, analysis, backdrop }) => besideOf(line, analysis, backdrop)))
  }

  get laid(): readonly Laid[] {
    return this.first.map((_, at) => this.laidAt(at))
  }

  private laidAt(at: number): Laid {
    const laid = this.first[at]!
    return (this.known[at] ??= this.laidAgain(laid, adapted(this.first, laid)))
  }

  private lay(voice: Voice, read: WorkedVoice, fresh: readonly SignId[]): FirstLaid {
    const { together } = this
    const times = timesSung(read.reading)
    const worked = times > 1 ? workVoice(writtenOut(voice, times), this.reading) : read
    const readings = this.othersOf(voice)
    const factor = factorFor(together.readings)
    const backdrop = new Backdrop(readings, worked.chosen.practice.name, factor)
    const line = lineOf(worked, backdrop, factor)
    const plain = worked.chosen.settings["minims"] === "unwritten" || worked.reading.unit === "tempus"
    return {
      worked,
      times,
      subject: subjectOf(this.page, voice, fresh, plain, this.melody),
      backdrop,
      factor,
      line,
      analysis: analyse(line, backdrop),
      habits: new Habits(this.page, voice),
      underlay: new Underlay(voice),
    }
  }

  /** What sounds beside the voice, read without it; of a canon alone, what else is sung from it. */
  private othersOf(voice: Voice): readonly Reading[] {
    const { page, together } = this
    if (this.alone) return soundingOf(page, together.readings).readings.filter(one => one.voice !== voice.id)
    const others = { ...page, voices: page.voices.filter(one => one !== voice) }
    return soundingOf(others, readTogether(others, this.options, together).readings).readings
  }

  /** By so much more a shift of pitches has to gain: the longer the piece, the better the best of its passages by chance. */
  get moreForShifts(): number {
    return SHIFT_BY_SIZE * Math.log(Math.max(1, this.notes / SMALL_PIECE))
  }

  /** The voice laid by what these very voices do: their concords, and the places of their notes in the measure. */
  private laidAgain(laid: FirstLaid, weights: CounterpointWeights): Laid {
    const backdrop = laid.backdrop.with(weights)
    const line = { ...laid.line, metre: this.metre }
    const analysis = analyse(line, backdrop)
    return {
      ...laid,
      backdrop,
      line,
      analysis: folded(analysis, laid.subject.figures.length, laid.times),
      asItIs: Math.min(analysis.whole, analysis.parted),
    }
  }

  private preparedOf(laid: Laid): Prepared {
    const { line, backdrop, analysis } = laid
    let known = this.prepared.get(laid)
    if (known === undefined) {
      const partings = { price: UNEXPLAINED, by: [...new Set(analysis.jumps.map(jump => jump.by))] }
      this.prepared.set(laid, (known = prepared(line, backdrop, partings, analysis.there)))
    }
    return known
  }

  /** At most `most` changes tried; the likeliest first. `loose`: any that helps, where something must be wrong. */
  *weigh(most: number, step: number, loose: boolean): Generator<Progress, Weighed[]> {
    const chosen = this.mostSuspect(this.alone ? Math.min(most, MOST_ALONE) : most)
    const all = this.laid.flatMap(laid => this.shifts(laid))
    for (const [i, { laid, candidate }] of chosen.entries()) {
      if (i % (this.alone ? PROGRESS_ALONE : PROGRESS_EVERY) === 0) yield { step, done: i, of: chosen.length }
      const one = this.weighOne(laid, candidate)
      if (one.evidence > (loose ? 0 : WORTH_A_TRIAL)) all.push(one)
    }
    const gain = ({ evidence, price }: Weighed): number => evidence - price
    return distinct(all.sort((a, b) => gain(b) - gain(a)))
  }

  private shiftAlike({ subject }: Laid, { edit, from, to }: Candidate): number {
    const voice = this.statements.touches(subject.voice, from, to) ? edited(subject.voice, edit) : undefined
    return voice === undefined ? 0 : this.statements.change(voice, from, to)
  }

  private mostSuspect(most: number): { readonly laid: Laid; readonly candidate: Candidate }[] {
    const all = this.laid.flatMap(laid =>
      [...candidatesOf(laid)].map(candidate => ({ laid, candidate, suspicion: this.suspicionOf(laid, candidate) })),
    )
    const some = all.filter(one => one.suspicion < Infinity)
    return some.sort((a, b) => a.suspicion - b.suspicion).slice(0, most)
  }

  private suspicionOf(laid: Laid, candidate: Candidate): number {
    const { voice } = laid.subject
    if (this.statements.touches(voice, candidate.from, candidate.to)) return -1
    return suspicionOf(laid, candidate) + (this.alone && isOneOfMany(candidate) ? LATER_ALONE : 0)
  }

  /** The voice with the change, read by itself and laid against the others. */
  weighOne(laid: Laid, candidate: Candidate): Weighed {
    const voice = editedThroughout(laid.subject.voice, candidate)
    if (voice === undefined) return weighed(laid, candidate, { saves: -Infinity, silenced: 0, habit: 0, alike: 0 })
    const worked = this.layed(laid, voice)
    const cost = this.alone ? this.anew(laid, candidate) : this.laidWith(laid, worked, this.sungAfter(laid, voice))
    const habit = STAND_INS.has(candidate.kind) ? 0 : laid.habits.change(voice)
    const statements = this.statements.change(voice, candidate.from, candidate.to)
    const spoilt = this.silences.change(laid.worked, worked)
    const alike = this.custodes(laid, voice) + statements + laid.underlay.change(candidate) + spoilt
    const gone = silencedBy(laid, voice)
    return weighed(laid, withRun(candidate, worked), {
      saves: (this.alone ? this.together.inFull : laid.asItIs) - cost + gone,
      silenced: gone,
      habit,
      alike,
    })
  }

  /** A changed voice, by itself. */
  layed({ times, worked }: Laid, voice: Voice): WorkedVoice {
    return layVoice(writtenOut(voice, times), this.reading, worked)
  }

  private laidWith(laid: Laid, worked: WorkedVoice, after: Rational | undefined): number {
    return totalAfter(this.preparedOf(laid), worked, laid.factor, after)
  }

  /** Of a part that is sung again in other values, or by several: how long that lasts with the change. */
  private sungAfter({ worked, times }: Laid, voice: Voice): Rational | undefined {
    if (times > 1 || !worked.reading.canon) return undefined
    const reading = rereadVoice(worked.reading, voice, this.reading)
    return reading.canon ? sungAfter(reading) : undefined
  }

  /** Read with the change in all that is sung from the part. */
  private anew({ subject }: Laid, { edit }: Candidate): number {
    const page = changed(this.page, subject.voice.id, edit)
    return page === undefined ? Infinity : readTogether(page, this.options, this.together).inFull
  }

  /** What the custodes say against the change; negative where they speak for it. */
  private custodes({ subject }: Laid, after: Voice): number {
    if (!subject.voice.signs.some(sign => sign.kind === "custos")) return 0
    return CUSTOS_WRONG * (contradicted(after) - contradicted(subject.voice))
  }

  /** What it would save in intervals to move a passage of a voice. */
  savedWithin({ voice, from, to }: Candidate, shift: number): number {
    const at = this.first.findIndex(({ subject }) => subject.voice.id === voice)
    if (at < 0) return 0
    const laid = this.laidAt(at)
    const backdrop = laid.backdrop.with(concordsAlike(laid.backdrop.weights))
    return savedWithin(laid, backdrop, this.parallels, { from, to, shift })
  }

  /** Pitches move no time: what they sound is weighed by how consonant these very voices are. */
  shifts(laid: Laid, least = LEAST_EVIDENCE): Weighed[] {
    // what is moved in a canon moves in all voices: laid against the others as they stand it says nothing
    if (this.alone) return []
    const backdrop = laid.backdrop.with(concordsAlike(laid.backdrop.weights))
    return shifted(laid, backdrop, this.parallels)
      .filter(one => one.saves - one.leaps - this.shiftAlike(laid, one) > least + this.moreForShifts)
      .map(candidate => {
        const alike = this.shiftAlike(laid, candidate)
        return weighed(laid, candidate, { saves: candidate.saves, silenced: 0, habit: 0, alike })
      })
  }
}

const isSungAgainstItself = ({ canon }: Reading): boolean => (canon?.voices.length ?? 1) > 1

/** A voice laid by what is usual of its practice. */
type FirstLaid = Omit<Laid, "asItIs">

function metreOf(all: readonly FirstLaid[]): Metre {
  const metre = new Metre()
  for (const { line, analysis } of all)
    analysis.onsets.forEach((time, figure) =>
      metre.add(line.shapes[figure]!, slotOf(line, figure, time, analysis.strengths[figure]!)),
    )
  return metre
}

/** A run that is coloured costs the more the less it is like others. */
function withRun(candidate: Candidate, { settled }: WorkedVoice): Candidate {
  if (candidate.kind !== "coloration-missing") return candidate
  const figures = settled.flatMap(({ stretch }) => stretch.figures)
  return { ...candidate, extra: candidate.extra + costOfRun(figures, candidate.from) }
}
