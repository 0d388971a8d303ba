/**
 * Modern note values in small, in our own outlines on the measures that SMuFL 1.4 registers: a head 1.18 wide, a stem 0.12.
 * The unit is a modern staff space; x is 0 at the head's left edge, y 0 at its middle.
 */
import { compare, minus, over, ratio, times, type Rational } from "../../base/index.js"
import { modernValue, type ModernValue } from "../../score/index.js"
import type { Path } from "../scene/scene.js"
import { ellipse, moved, rectOutline, reversed, straightStroke } from "../signs/outline.js"

/** One value, or several tied, in the time of a tuplet or not. */
export interface ModernParts {
  readonly values: readonly ModernValue[]
  /** 3: three in the time of two; 5, 7, 9: so many in that of four or eight. */
  readonly tuplet?: number
}

/** More in the time of a power of two than one reads at a glance. */
const MOST_IN_TUPLET = 9

/** Undefined where no usual value lasts so long. */
export function modernParts(wholes: Rational): ModernParts | undefined {
  const plain = tied(wholes)
  if (plain) return { values: plain }
  let tuplet = wholes.den
  while (tuplet % 2 === 0) tuplet /= 2
  if (tuplet === 1 || tuplet > MOST_IN_TUPLET) return undefined
  const values = tied(times(wholes, ratio(tuplet, 2 ** Math.floor(Math.log2(tuplet)))))
  return values && { values, tuplet }
}

/** One value; or two dotted ones, as where beats are in threes; or the largest that fits and what is left, at most four. */
function tied(wholes: Rational): readonly ModernValue[] | undefined {
  const single = modernValue(wholes)
  if (single) return [single]
  return bothDotted(wholes) ?? largestFirst(wholes)
}

const BREVE = ratio(2)
const DOTTED = ratio(3, 2)

/** Plain values from the breve down. */
const PLAIN: readonly Rational[] = Array.from({ length: 8 }, (_, i) => over(BREVE, ratio(2 ** i)))

function bothDotted(wholes: Rational): readonly ModernValue[] | undefined {
  const first = PLAIN.map(plain => times(plain, DOTTED)).find(size => compare(size, wholes) < 0)
  const [one, rest] = first ? [modernValue(first), modernValue(minus(wholes, first))] : []
  return one && rest?.dots === 1 ? [one, rest] : undefined
}

function largestFirst(wholes: Rational): readonly ModernValue[] | undefined {
  const values: ModernValue[] = []
  let left = wholes
  while (left.num > 0 && values.length < 4) {
    const next = largestIn(left)
    if (!next) return undefined
    values.push(next.value)
    left = minus(left, next.lasts)
  }
  return left.num === 0 && values.length > 0 ? values : undefined
}

function largestIn(wholes: Rational): { value: ModernValue; lasts: Rational } | undefined {
  for (const plain of PLAIN)
    for (const lasts of [times(plain, DOTTED), plain]) {
      const value = compare(lasts, wholes) <= 0 ? modernValue(lasts) : undefined
      if (value) return { value, lasts }
    }
  return undefined
}

const STEM = 2.5
const HEAD = 1.18
const STEM_WIDTH = 0.13

const FULL: Path = ellipse(HEAD / 2, 0, 0.63, 0.43, 24)
const VOID: Path = [...FULL, ...reversed(ellipse(HEAD / 2, 0, 0.52, 0.22, 34))]
const WHOLE_WIDTH = 1.69
const WHOLE: Path = [
  ...ellipse(WHOLE_WIDTH / 2, 0, 0.845, 0.5, 0),
  ...reversed(ellipse(WHOLE_WIDTH / 2, 0, 0.42, 0.33, -62)),
]
const DOUBLE: Path = [
  ...moved(WHOLE, 0.36, 0),
  ...[0, 0.19, 2.13, 2.32].flatMap(x => rectOutline(x, -0.62, x + 0.09, 0.62)),
]
const FLAG: Path = [
  ["M", 0, 0],
  ["C", 0.06, 0.62, 1.02, 0.86, 0.72, 2.1],
  ["C", 0.74, 1.42, 0.36, 1.12, 0, 1.02],
  ["Z"],
]
const FLAG_STEP = 0.66

/** Outline, width, and where the dots begin. */
export interface ModernForm {
  readonly path: Path
  readonly width: number
}

const FORMS = new Map<string, ModernForm>()

/** One value as a note or a rest; the same form each time it is asked for. */
export function modernForm({ dur, dots }: ModernValue, rest: boolean): ModernForm {
  const key = `${rest ? "rest" : "note"} ${dur} ${dots}`
  const known = FORMS.get(key)
  if (known) return known
  const bare = rest ? restForm(dur) : noteForm(dur)
  const dotted = dots === 0 ? bare : withDot(bare, rest ? -1.25 : -0.3)
  FORMS.set(key, dotted)
  return dotted
}

const withDot = ({ path, width }: ModernForm, y: number): ModernForm => ({
  path: [...path, ...ellipse(width + 0.45, y, 0.21, 0.21, 0)],
  width: width + 0.66,
})

function noteForm(dur: string): ModernForm {
  if (dur === "breve") return { path: DOUBLE, width: 2.41 }
  if (dur === "1") return { path: WHOLE, width: WHOLE_WIDTH }
  const flags = flagsOf(dur)
  const top = -STEM - Math.max(0, flags - 2) * FLAG_STEP
  const stem = rectOutline(HEAD - STEM_WIDTH, top, HEAD, -0.18)
  const hung = Array.from({ length: flags }, (_, i) => moved(FLAG, HEAD - STEM_WIDTH, top + i * FLAG_STEP)).flat()
  return { path: [...(dur === "2" ? VOID : FULL), ...stem, ...hung], width: flags > 0 ? 1.9 : HEAD }
}
/** An eighth has one. */
const flagsOf = (dur: string): number => Math.max(0, Math.round(Math.log2(Number(dur))) - 2)

/** Middle of a rest: where the middle of a stem is. */
const MIDDLE = -1.1
const QUARTER: Path = moved(
  [
    ["M", 0.22, -1.42],
    ["L", 0.86, -0.56],
    ["C", 0.5, -0.12, 0.56, 0.12, 1, 0.7],
    ["C", 0.52, 0.44, 0.3, 0.78, 0.66, 1.36],
    ["C", 0.02, 1.1, -0.12, 0.42, 0.56, 0.42],
    ["L", 0.04, -0.24],
    ["C", 0.5, -0.62, 0.46, -0.94, 0.22, -1.42],
    ["Z"],
  ],
  0,
  MIDDLE,
)

function restForm(dur: string): ModernForm {
  if (dur === "breve")
    return {
      path: [...ledger(-0.5), ...ledger(0.5), ...rectOutline(0.5, MIDDLE - 0.5, 1.05, MIDDLE + 0.5)],
      width: 1.55,
    }
  if (dur === "1") return { path: [...ledger(0), ...rectOutline(0.25, MIDDLE, 1.3, MIDDLE + 0.5)], width: 1.55 }
  if (dur === "2") return { path: [...ledger(0), ...rectOutline(0.25, MIDDLE - 0.5, 1.3, MIDDLE)], width: 1.55 }
  if (dur === "4") return { path: QUARTER, width: 1 }
  const hooks = flagsOf(dur)
  const top = MIDDLE - 0.75 - (hooks - 1) * 0.4
  const bottom = MIDDLE + 1.1
  const lean = (y: number) => 1 - (y - top) * 0.26
  const path: Path = [
    ...straightStroke(lean(top), top, lean(bottom), bottom, 0.14),
    ...Array.from({ length: hooks }, (_, i) => hook(lean(top + i * 0.8), top + i * 0.8)).flat(),
  ]
  return { path, width: 1.06 }
}
const ledger = (y: number): Path => rectOutline(0, MIDDLE + y - 0.06, 1.55, MIDDLE + y + 0.06)
const hook = (x: number, y: number): Path => [
  ...ellipse(x - 0.66, y + 0.12, 0.24, 0.24, 0),
  ["M", x - 0.84, y + 0.3],
  ["C", x - 0.5, y + 0.52, x - 0.2, y + 0.36, x, y - 0.02],
  ["L", x - 0.04, y + 0.22],
  ["C", x - 0.24, y + 0.52, x - 0.56, y + 0.66, x - 0.84, y + 0.3],
  ["Z"],
]

/** A bow from under one head to under the next. */
export const tiePath = (from: number, to: number): Path => {
  const middle = (from + to) / 2
  return [["M", from, 0.6], ["Q", middle, 1.02, to, 0.6], ["Q", middle, 0.78, from, 0.6], ["Z"]]
}
