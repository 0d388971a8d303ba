/** The reading of one sounding voice, made from that of its part: later, longer, shorter, backwards, again. */
import { compare, equals, max, minus, over, plus, times, ZERO, type Rational, type SignId } from "../base/index.js"
import type { MensurationSpan, Reading, SignReading, SungStatement, SungVoice } from "../reading/index.js"
import { pitchOf, pitchText } from "./pitch.js"
import type { Naming } from "./sounding.js"
import type { Transposer } from "./transpose.js"

export interface SungReading {
  readonly reading: Reading
  /** By statement: the signs that are sung, in their order, as the part has them. */
  readonly statements: readonly (readonly SignReading[])[]
}

/** `transposers`, by statement: where pitches go; without them they stay as they are. */
export function sungReading(
  part: Reading,
  voice: SungVoice,
  naming: readonly Naming[],
  transposers: readonly Transposer[] = [],
): SungReading {
  const begins = entryOf(part, voice)
  let start = begins
  const signs: SignReading[] = []
  const spans: MensurationSpan[] = []
  const statements: SignReading[][] = []
  voice.statements.forEach((statement, at) => {
    const source = statement.reading ?? part
    const own = ordered(chosen(source.signs, statement), statement)
    const sung = placed(own, statement, start, naming[at]!).map(sign => atPitch(sign, transposers[at]))
    signs.push(...sung)
    spans.push(...spansOf(source, statement, start))
    statements.push(own)
    start = endOf(sung, start)
  })
  const { canon: _, ...rest } = part
  const head = signs.findIndex(lasts)
  const reading: Reading = {
    ...rest,
    duration: start,
    mensurations: fromTheBeginning(spans, begins, part),
    // what stands before the first note stands at the beginning, however late the voice enters
    signs: signs.map((sign, index) => ({ ...sign, index, onset: index < head ? ZERO : sign.onset })),
    rivals: [],
    problems: [],
  }
  return { reading, statements }
}

function entryOf(part: Reading, { enters }: SungVoice): Rational {
  if ("num" in enters) return enters
  return part.signs.find(sign => sign.id === enters.with)?.onset ?? ZERO
}

const lasts = ({ kind, duration }: SignReading): boolean => (kind === "note" || kind === "rest") && duration.num > 0

/** Those that are sung: up to the last, without rests where none are kept. */
function chosen(signs: readonly SignReading[], { until, withoutRests }: SungStatement): readonly SignReading[] {
  const last = until === undefined ? -1 : signs.findIndex(sign => sign.id === until)
  const own = last < 0 ? signs : signs.slice(0, last + 1)
  return withoutRests ? own.filter(({ kind }) => kind !== "rest") : own
}

/** Backwards only what lasts has a place: dots and strokes were read already, and signs hold from left to right. */
function ordered(signs: readonly SignReading[], { backwards }: SungStatement): SignReading[] {
  return backwards ? signs.filter(lasts).reverse() : [...signs]
}

/** With onsets one after another from `start`; gaps that the part's reading has are kept where nothing is left out. */
function placed(
  signs: readonly SignReading[],
  { by, backwards, withoutRests }: SungStatement,
  start: Rational,
  name: Naming,
): SignReading[] {
  const end = signs.reduce((latest, sign) => max(latest, plus(sign.onset, sign.duration)), ZERO)
  let now = start
  return signs.map(sign => {
    const from = backwards ? minus(minus(end, sign.onset), sign.duration) : sign.onset
    const onset = withoutRests ? now : plus(start, times(from, by))
    const duration = times(sign.duration, by)
    now = max(now, plus(onset, duration))
    const { held: _, plica, ...rest } = sign
    return {
      ...rest,
      id: name(sign.id),
      onset,
      duration,
      ...(plica && { plica: { ...plica, duration: plica.duration && times(plica.duration, by) } }),
    }
  })
}

function atPitch(sign: SignReading, to: Transposer | undefined): SignReading {
  if (!to?.moves) return sign
  const move = (text: string | null): string | null => {
    const pitch = pitchOf(text)
    return pitch && pitchText(to.pitch(pitch))
  }
  const { plica } = sign
  return { ...sign, pitch: move(sign.pitch), ...(plica && { plica: { ...plica, pitch: move(plica.pitch) } }) }
}

function endOf(signs: readonly SignReading[], start: Rational): Rational {
  return signs.reduce((end, sign) => (lasts(sign) ? max(end, plus(sign.onset, sign.duration)) : end), start)
}

const isHalving = ({ num, den }: Rational): boolean =>
  Number.isInteger(Math.log2(num)) && Number.isInteger(Math.log2(den))

/**
 * Values halved or doubled stay within the bars of the part; others have bars that shrink or grow with them. Backwards the spans come from the last to the first.
 */
function spansOf(source: Reading, { by, backwards }: SungStatement, start: Rational): MensurationSpan[] {
  const end = source.duration
  const spans = source.mensurations.map((span, i): MensurationSpan => {
    const next = source.mensurations[i + 1]?.onset ?? end
    const from = backwards ? minus(end, compare(next, end) > 0 ? end : next) : span.onset
    return {
      ...span,
      onset: plus(start, times(from, by)),
      proportion: isHalving(by) ? span.proportion : over(span.proportion, by),
    }
  })
  return backwards ? spans.reverse() : spans
}

/**
 * A voice that enters later has its bars where the part has them, from the beginning; one in other values has bars of its
 * own from its entry on.
 */
function fromTheBeginning(spans: readonly MensurationSpan[], begins: Rational, part: Reading): MensurationSpan[] {
  const [first, ...others] = spans
  if (!first || begins.num === 0) return [...spans]
  const model = part.mensurations[0]
  if (model && !equals(model.proportion, first.proportion)) return [{ ...model, onset: ZERO }, ...spans]
  return [{ ...first, onset: ZERO }, ...others]
}

export const idsOf = (signs: readonly SignReading[]): Set<SignId> => new Set(signs.map(({ id }) => id))
