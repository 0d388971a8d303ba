/**
 * For tests: invented motets of c. 1300, of 1315-25 and of the fourteenth century with minims, made independently of the lawful
 * pieces: perfections are drawn by what such voices mostly have, the tenor goes round and round, voices come in late, rest in turn,
 * and a scribe writes all down (`scribe.ts`). How often what comes is estimated from the habits that theory counts; nothing looks
 * at how a reader decides. The same seed gives the same motet.
 */
import { ONE, ratio } from "../../../base/index.js"
import { randomFrom, type Random } from "../../../reading/testing/random.js"
import { cellFrom, drawn, type Cell, type Metre, type Repertory } from "./cells.js"
import { enriched, type Features } from "./features.js"
import type { Mensuration, Motet, MotetVoice } from "./figures.js"
import { withGeneralRests, withIntroitus } from "./in-all-voices.js"
import { drawnOtherwise } from "./forms.js"
import { endingEarly, enteringLate, withEnd, withTurns } from "./second-round.js"
import { written, type ScribeHabits } from "./scribe.js"
import { tenor, writtenTenor, type Tenor } from "./tenor.js"

export const REPERTORIES: readonly Repertory[] = ["c1300", "c1320", "c1350"]

const LABELS = ["triplum", "motetus", "contratenor", "tenor"]
const LOWS = [28, 25, 22, 21]
const PLAIN: Features = new Set()

/** A voice before it is written: whole spans of the modus, and for a tenor its sections. */
interface Sketch {
  readonly name: number
  readonly metre: Metre
  cells: readonly Cell[]
  readonly tenor?: Tenor
}

/** About so many breves a voice: whole perfections of both kinds of modus. */
export function motet(seed: number, repertory: Repertory, breves = 60, features: Features = PLAIN): Motet {
  const random = randomFrom(seed)
  const count = random.of(repertory === "c1300" ? [2, 3, 3, 3, 4] : [3, 3, 3, 4])
  const common = metreOf(repertory, random)
  // two thirds of it and the faster third are both whole perfections, and so are three quarters and the fastest fourth
  const step = features.has("diminution") || features.has("thirds") || features.has("maximodus") ? 36 : 12
  const length = Math.max(step === 12 ? 24 : step, Math.round(breves / step) * step)
  const habits: ScribeHabits = { dotted: 0.66 + random.next() * 0.14, careless: 0.06, ligatures: 0.4 }
  const names = count === 4 ? [0, 1, 2, 3] : count === 3 ? [0, 1, 3] : [1, 3]
  const sketches = names.map((name): Sketch => {
    const slow = name >= 2
    const metre = slow && random.chance(0.25) ? otherModus(common, random) : common
    if (!slow) return { name, metre, cells: enriched(upperVoice(metre, length, random), metre, features, random) }
    const made = tenor(metre, length, features, random)
    return { name, metre, cells: made.cells, tenor: made }
  })
  if (features.has("introitus")) withIntroitus(sketches, random)
  if (features.has("general-rests")) withGeneralRests(sketches, random)
  const upper = sketches.filter(one => one.tenor === undefined)
  if (features.has("turns")) withTurns(upper, random)
  if (features.has("late") && sketches.length > 2) enteringLate(sketches, random)
  const early =
    features.has("early") && sketches.length > 2 && random.chance(0.5) ? endingEarly(sketches, random) : undefined
  const unwritten = repertory === "c1320"
  return {
    name: `Invented motet ${seed} (${repertory})`,
    practice: repertory === "c1300" ? "ars-antiqua" : "ars-nova",
    options: unwritten
      ? { minims: "unwritten", plainGroups: "equal" }
      : repertory === "c1300"
        ? { breveDivision: "equal" }
        : {},
    voices: sketches.map((sketch, v) => voiceOf(sketch, habits, features, random, v !== early)),
  }
}

function voiceOf(
  { name, metre, cells, tenor: slow }: Sketch,
  habits: ScribeHabits,
  features: Features,
  random: Random,
  hasFinal: boolean,
) {
  const plain = slow
    ? writtenTenor({ ...slow, cells }, metre, habits, random)
    : written(hasFinal ? withFinal(cells, metre) : cells, metre, habits, random)
  const drawn = drawnOtherwise(plain, metre, features, random)
  const voice: MotetVoice = {
    label: LABELS[name]!,
    low: LOWS[name]!,
    mensuration: { ...mensurationOf(metre), ...(slow?.maior && { modusmaior: 3 as const }) },
    figures: hasFinal ? withEnd(drawn, metre, features, random) : drawn,
    end: hasFinal ? drawn.length - 1 : drawn.length,
    color: slow?.color,
  }
  return voice
}

function metreOf(repertory: Repertory, random: Random): Metre {
  if (repertory === "c1300") return { repertory, divisions: [3, 3, 2], breve: ONE }
  const modus = random.chance(repertory === "c1320" ? 0.7 : 0.4) ? 3 : 2
  if (repertory === "c1320") {
    const tempus = random.chance(0.35) ? 3 : 2
    return { repertory, divisions: [modus, tempus, 2], breve: ratio(tempus * 2) }
  }
  const [tempus, prolatio] = random.of([
    [2, 3],
    [2, 3],
    [2, 2],
    [3, 2],
    [3, 3],
  ] as const)
  return { repertory, divisions: [modus, tempus, prolatio], breve: ratio(tempus * prolatio) }
}

function otherModus(metre: Metre, random: Random): Metre {
  if (metre.repertory === "c1300" || !random.chance(0.6)) return metre
  const [modus, tempus, prolatio] = metre.divisions
  return { ...metre, divisions: [modus === 3 ? 2 : 3, tempus, prolatio] }
}

function mensurationOf({ repertory, divisions: [modusminor, tempus, prolatio] }: Metre): Mensuration {
  if (repertory === "c1300") return { modusminor, tempus }
  return repertory === "c1320" ? { modusminor, tempus } : { modusmaior: 2, modusminor, tempus, prolatio }
}

/** A texted voice: it may come in late, and rests between its lines. */
function upperVoice(metre: Metre, breves: number, random: Random): Cell[] {
  const spans = breves / metre.divisions[0]
  const late = random.chance(0.15) ? 1 + random.below(4) : 0
  const cells: Cell[] = Array.from({ length: late }, () => silence(metre))
  while (cells.length < spans) {
    const hocket = metre.repertory === "c1350" && random.chance(0.04)
    if (hocket) cells.push(...hocketed(metre, random).slice(0, spans - cells.length))
    else cells.push(drawn(metre, 1, random))
  }
  return cells
}

const silence = (metre: Metre): Cell => cellFrom(`r${metre.divisions[0]}`, metre, 1)

/** Single notes and rests in turn for a few spans. */
function hocketed(metre: Metre, random: Random): Cell[] {
  const ways = metre.divisions[0] === 3 ? ["u r1 u", "r1 u r1", "b r1 b"] : ["b r1", "r1 b", "u r1"]
  return Array.from({ length: 2 + random.below(3) }, () => cellFrom(random.of(ways), metre, 1, random))
}

/** The final is a long of whatever length, and stands where a perfection begins. */
function withFinal(cells: readonly Cell[], metre: Metre): Cell[] {
  return [...cells, cellFrom("x" + metre.divisions[0], metre, 1)]
}
