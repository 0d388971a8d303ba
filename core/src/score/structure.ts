/** Where a piece is divided: repeats, endings, refrains and sections of all voices together, in the score's unit. */
import { compare, equals, toText, type Problem, type Rational } from "../base/index.js"
import type { Score, ScoreMark, ScoreVoice } from "./types.js"

/** An ending, ouvert (1) or clos (2). */
export interface Ending {
  readonly number: 1 | 2
  readonly from: Rational
  readonly to: Rational
}

export interface Structure {
  readonly starts: readonly Rational[]
  readonly ends: readonly Rational[]
  readonly endings: readonly Ending[]
  /** From a refrain's beginning to its end; from and to alike where it is only called for again. */
  readonly refrains: readonly { readonly from: Rational; readonly to: Rational }[]
  /** Marks of new sections. */
  readonly sections: readonly Rational[]
  /** Where a finis punctorum closes every voice. */
  readonly closes: readonly Rational[]
  readonly problems: readonly Problem[]
}

type Marked = Pick<Score, "voices" | "duration">

/** Marks may stand in one voice or in all; a mark of most voices that has another place in one is told of. */
export function structureOf(score: Marked): Structure {
  const problems: Problem[] = []
  const at = (of: ScoreMark["of"]): Rational[] => placesOf(of, score.voices, problems)
  const [starts, ends, open, closed] = [at("repeat-start"), at("repeat-end"), at("ending-open"), at("ending-closed")]
  const [refrainStarts, refrainEnds, sections] = [at("refrain-start"), at("refrain-end"), at("section")]
  const closes = commonCloses(score.voices)
  const stops = [
    ...open,
    ...closed,
    ...starts,
    ...sections,
    ...refrainStarts,
    ...refrainEnds,
    ...closes,
    score.duration,
  ]
  const endings = (number: 1 | 2, from: readonly Rational[]) =>
    from.flatMap(one => next(stops, one).map((to): Ending => ({ number, from: one, to })))
  return {
    starts,
    ends,
    endings: [...endings(1, open), ...endings(2, closed)],
    refrains: refrainStarts.map(from => ({
      from,
      to: refrainEnds.find(to => compare(to, from) >= 0) ?? next(stops, from)[0] ?? score.duration,
    })),
    sections,
    closes,
    problems,
  }
}

function next(stops: readonly Rational[], from: Rational): Rational[] {
  return stops
    .filter(stop => compare(stop, from) > 0)
    .toSorted(compare)
    .slice(0, 1)
}

/** Of the voices that have most marks of the kind the first says where they are. */
function placesOf(of: ScoreMark["of"], voices: readonly ScoreVoice[], problems: Problem[]): Rational[] {
  const all = voices.map(voice => ({ voice, marks: voice.marks.filter(mark => mark.of === of) }))
  const most = Math.max(0, ...all.map(({ marks }) => marks.length))
  const full = all.filter(({ marks }) => marks.length === most)
  const [model, ...others] = full
  if (most === 0 || !model) return []
  const strays = model.marks.flatMap((mark, i) => {
    const stray = others.find(({ marks }) => !equals(marks[i]!.onset, mark.onset))
    return stray ? [{ mark, voice: stray.voice, other: stray.marks[i]! }] : []
  })
  const [first] = strays
  if (first)
    problems.push({
      code: "marks-part",
      what: `${NAMES[of] ?? "A mark"} stands at ${toText(first.mark.onset)} in ${model.voice.label} and at ${toText(first.other.onset)} in ${first.voice.label}; the score has it where ${model.voice.label} has it.`,
      where: { sign: first.other.sign },
      mend: "Look whether the voices have parted before it, or whether the mark stands at the wrong note.",
    })
  return distinct(model.marks.map(({ onset }) => onset).toSorted(compare))
}

const NAMES: Partial<Record<ScoreMark["of"], string>> = {
  "repeat-start": "The beginning of a repeat",
  "repeat-end": "The end of a repeat",
  "ending-open": "An open ending",
  "ending-closed": "A closed ending",
  "refrain-start": "The beginning of a refrain",
  "refrain-end": "The end of a refrain",
  section: "A new section",
}

function commonCloses(voices: readonly ScoreVoice[]): Rational[] {
  const [first, ...others] = voices
  const all = (first?.sectionEnds ?? []).filter(at =>
    others.every(({ sectionEnds }) => sectionEnds.some(one => equals(one, at))),
  )
  return distinct(all.toSorted(compare))
}

export function distinct(times: readonly Rational[]): Rational[] {
  return times.filter((time, i) => i === 0 || !equals(time, times[i - 1]!))
}

/** A line that every voice has. */
export interface Cut {
  readonly at: Rational
  /** From where the bars that follow are counted; undefined where they go on as they were. */
  readonly origin?: Rational
  /** They are counted as if it stood there. */
  readonly like?: Rational
}

/** Lines that repeats, endings, refrains, sections ask for: an ending begins a bar, and the closed as the open one. */
export function cutsOf(structure: Structure): Cut[] {
  const { starts, ends, endings, refrains, sections, closes } = structure
  const fresh = [...starts, ...sections, ...closes]
  const open = endings.filter(({ number }) => number === 1)
  const cuts: Cut[] = [
    ...open.map(({ from }) => ({ at: from })),
    ...fresh.map(at => ({ at, origin: at })),
    ...endings.filter(({ number }) => number === 2).map(({ from }) => closedCut(from, open)),
    ...ends.map(at => ({ at, origin: at })),
    ...endings.map(({ to }) => ({ at: to, origin: to })),
    ...refrains.flatMap(({ from, to }) => [{ at: from }, { at: to }]),
  ]
  const sorted = cuts.toSorted((a, b) => compare(a.at, b.at))
  return sorted.filter((cut, i) => !sorted.slice(0, i).some(one => equals(one.at, cut.at)))
}

/** Where the voices are parted by repeats, endings, refrains and sections. */
export const partLines = (score: Marked): Rational[] => cutsOf(structureOf(score)).map(({ at }) => at)

/** Its bars are counted as if it stood where the open ending does. */
function closedCut(from: Rational, open: readonly Ending[]): Cut {
  const before = open.findLast(one => compare(one.from, from) < 0)
  return { at: from, ...(before ? { like: before.from } : { origin: from }) }
}
