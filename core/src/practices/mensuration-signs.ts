/** What a sign of mensuration or a figure says, by the options of the practice: divisions and ratio. */
import { equals, ONE, over, ratio, times, type Rational } from "../base/index.js"
import type { MensurationSign, Proportion } from "../page/index.js"
import type { Settings } from "./types.js"

export interface Divisions {
  readonly modusMaior: 2 | 3
  readonly modusMinor: 2 | 3
  readonly tempus: 2 | 3
  readonly prolatio: 2 | 3
}

export interface Measuring extends Divisions {
  /** Written durations are divided by it; 2 under a cut sign. */
  readonly ratio: Rational
}

/** Letters of the divisiones by the French mensuration they agree with (theory: Italian divisiones, correspondences). */
const LETTERS: Record<string, { tempus: 2 | 3; prolatio: 2 | 3 }> = {
  q: { tempus: 2, prolatio: 2 },
  i: { tempus: 2, prolatio: 3 },
  si: { tempus: 2, prolatio: 3 },
  sg: { tempus: 2, prolatio: 3 },
  sy: { tempus: 2, prolatio: 3 },
  p: { tempus: 3, prolatio: 2 },
  sp: { tempus: 3, prolatio: 2 },
  n: { tempus: 3, prolatio: 3 },
  t: { tempus: 3, prolatio: 2 },
  o: { tempus: 2, prolatio: 2 },
  d: { tempus: 3, prolatio: 2 },
}

/** The mensuration from this sign on. A new sign of tempus cancels every proportion (Practica musicae, 1496, IV.3). */
export function measuringOf(sign: MensurationSign, before: Measuring, settings: Settings): Measuring {
  const drawn = drawnDivisions(sign, settings)
  const divisions: Divisions = {
    modusMaior: sign.modusMaior ?? drawn.modusMaior ?? before.modusMaior,
    modusMinor: sign.modusMinor ?? drawn.modusMinor ?? before.modusMinor,
    tempus: sign.tempus ?? drawn.tempus ?? before.tempus,
    prolatio: sign.prolatio ?? drawn.prolatio ?? before.prolatio,
  }
  const isNew = sign.sign !== undefined || sign.letter !== undefined
  const own = times(signRatio(sign, settings), ratioInWords(sign))
  return { ...divisions, ratio: isNew ? own : times(before.ratio, own) }
}

/** The levels that a drawn sign tells of, without what a file adds in words. */
export function drawnDivisions(sign: MensurationSign, settings: Settings): Partial<Divisions> {
  if (sign.letter !== undefined) return Object.hasOwn(LETTERS, sign.letter) ? LETTERS[sign.letter]! : {}
  const early = strokesOfModus(sign, settings)
  if (sign.sign === undefined) return early === undefined ? {} : { tempus: early }
  const circle: 2 | 3 = sign.sign === "O" ? 3 : 2
  const dots = sign.dots ?? 0
  const prolatio: 2 | 3 = dots === 1 || dots === 3 ? 3 : 2
  const figure = figuresOf(sign)?.[0]
  if (figure !== undefined && settings["numeralSigns"] === "modus-cum-tempore")
    return { modusMinor: circle, tempus: figure === 3 ? 3 : 2, prolatio }
  if (figure === 3 && settings["numeralSigns"] === "modus-maior-cum-tempore")
    return { modusMaior: circle, tempus: 3, prolatio }
  if (isTripla(figure ?? 0, figuresOf(sign)?.[1]) && settings["threeImpliesPerfection"] !== "false")
    return { tempus: 3, prolatio }
  return { tempus: circle, prolatio, ...(early !== undefined && { modusMinor: early }) }
}

/**
 * Three strokes or two as the early Ars nova draws them, which are no proportion: in a circle and a half circle they say that
 * the modus is as the tempus (Ars nova, c. 1320, 18), by themselves what the tempus is (there, 16).
 */
function strokesOfModus({ sign, strokes }: MensurationSign, settings: Settings): 2 | 3 | undefined {
  // of the practices with a modus by sign only the Ars nova asks whether minims are written
  if (settings["minims"] === undefined || (strokes !== 2 && strokes !== 3)) return undefined
  return sign === undefined || saysModus(sign, strokes) ? strokes : undefined
}

/** A circle with three strokes, a half circle with two. */
export const saysModus = (sign: "O" | "C", strokes: number): boolean => strokes === (sign === "O" ? 3 : 2)

/** Ratio of the drawn sign: strokes, reversal, figures (theory: table of signs). */
function signRatio(sign: MensurationSign, settings: Settings): Rational {
  let value = ONE
  if (sign.sign !== undefined) {
    if (sign.strokes && strokesOfModus(sign, settings) === undefined) value = times(value, strokeRatio(sign, settings))
    if (sign.reversed) value = times(value, reversedRatio(sign, settings))
    value = times(value, figureRatio(figuresOf(sign), settings))
    if ((sign.dots ?? 0) === 1) value = times(value, dottedRatio(settings))
  }
  return value
}

function dottedRatio(settings: Settings): Rational {
  if (settings["dottedSignAgainstPlain"] === "augmentation") return ratio(1, 2)
  return settings["dottedSignAgainstPlain"] === "semibreve-equality" ? ratio(3, 2) : ONE
}

function strokeRatio(sign: MensurationSign, settings: Settings): Rational {
  const option = sign.sign === "O" ? settings["cutCircle"] : settings["cutHalfCircle"]
  const one = option === "faster" ? ONE : option === "3/2" ? ratio(3, 2) : ratio(2)
  return (sign.strokes ?? 0) > 1 ? times(one, one) : one
}

function reversedRatio(sign: MensurationSign, settings: Settings): Rational {
  if (sign.sign !== "C") return ONE
  return settings["reversedC"] === "4/3" && !sign.strokes ? ratio(4, 3) : ratio(2)
}

function figureRatio(figures: readonly number[] | undefined, settings: Settings): Rational {
  if (figures === undefined || figures.length === 0) return ONE
  if (figures.length >= 2) return ratio(figures[0]!, figures[1]!)
  if (settings["numeralSigns"] !== "tempus-and-proportion") return figures[0] === 2 ? ratio(2) : ONE
  return loneFigure(figures[0]!, settings)
}

function loneFigure(figure: number, settings: Settings): Rational {
  if (figure === 3) return settings["loneThree"] === "3/1" ? ratio(3) : ratio(3, 2)
  return ratio(Math.max(1, figure))
}

/** Those drawn; failing them, MEI's mensur@num where it stands without a @numbase beside a sign. */
const figuresOf = (sign: MensurationSign): readonly number[] | undefined =>
  sign.figures ?? (sign.num !== undefined && sign.numbase === undefined ? [sign.num] : undefined)

/** MEI's mensur@num with @numbase: a proportion stated with the sign. */
function ratioInWords(sign: MensurationSign): Rational {
  return sign.num !== undefined && sign.num > 0 && sign.numbase !== undefined && sign.numbase > 0
    ? ratio(sign.num, sign.numbase)
    : ONE
}

/**
 * The mensuration after a proportion: fractions multiply, or each is taken from the sign (option proportionsCumulative). A
 * tripla is counted in threes (De arte canendi, 1540, II.5). `signed`: as the last sign has it, to which a proportion that
 * undoes the others goes back.
 */
export function measuringAfter(sign: Proportion, before: Measuring, signed: Measuring, settings: Settings): Measuring {
  const own =
    sign.numbase === undefined
      ? loneFigure(sign.num, settings)
      : ratio(Math.max(1, sign.num), Math.max(1, sign.numbase))
  const base = settings["proportionsCumulative"] === "false" ? signed.ratio : before.ratio
  const found = times(base, own)
  const inThrees = isTripla(sign.num, sign.numbase) && settings["threeImpliesPerfection"] !== "false"
  const tempus = inThrees ? 3 : equals(found, signed.ratio) ? signed.tempus : before.tempus
  return { ...before, tempus, ratio: found }
}

/** 3 alone, or 3/1. */
const isTripla = (num: number, numbase: number | undefined): boolean => num === 3 && (numbase ?? 1) === 1

/** `duration` of a note under a ratio. */
export function scaled(duration: Rational, by: Rational): Rational {
  return over(duration, by)
}
