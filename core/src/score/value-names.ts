/** A duration as the usual modern note value, in words. */
import { compare, minus, over, ratio, times, toText, type Rational } from "../base/index.js"
import type { Unit } from "../reading/types.js"
import { usualReduction } from "./values.js"

const NAMES: readonly (readonly [Rational, string])[] = [
  [ratio(8), "large"],
  [ratio(4), "long"],
  [ratio(2), "breve"],
  [ratio(1), "whole"],
  [ratio(1, 2), "half"],
  [ratio(1, 4), "quarter"],
  [ratio(1, 8), "eighth"],
  [ratio(1, 16), "16th"],
  [ratio(1, 32), "32nd"],
  [ratio(1, 64), "64th"],
  [ratio(1, 128), "128th"],
]
const DOTTED = ratio(3, 2)

/** What one unit becomes, in whole notes, reduced as is usual in the practice or as said; written out, a tempus is two and a minim half. */
export function unitInWholes(practice: string, unit: Unit, reduction = usualReduction(practice)): Rational {
  return over(unit === "tempus" ? ratio(2) : ratio(1, 2), ratio(reduction))
}

/** "half", "dotted half", "half + eighth" for tied notes, "quarter of a triplet", else the fraction of a whole note. */
export function modernName(wholes: Rational): string {
  if (wholes.num <= 0) return "—"
  return tied(wholes) ?? triplet(wholes) ?? `${toText(wholes)} of a whole note`
}

function single(wholes: Rational): string | undefined {
  for (const [size, name] of NAMES) {
    if (compare(size, wholes) === 0) return name
    if (compare(times(size, DOTTED), wholes) === 0) return `dotted ${name}`
  }
  return undefined
}

/** One note, or two tied: both dotted where that can be, as where beats are in threes, else the largest that fits and the rest. */
function tied(wholes: Rational): string | undefined {
  const alone = single(wholes)
  if (alone) return alone
  const plainSizes = NAMES.map(([size]) => size)
  const dottedSizes = plainSizes.map(size => times(size, DOTTED))
  const firstOf = (sizes: readonly Rational[]) => sizes.find(size => compare(size, wholes) < 0)
  const bothDotted = joined(wholes, firstOf(dottedSizes))
  if (bothDotted && bothDotted.split("dotted").length === 3) return bothDotted
  const largest = [...plainSizes, ...dottedSizes].sort((one, other) => compare(other, one))
  return joined(wholes, firstOf(largest))
}

function joined(wholes: Rational, first: Rational | undefined): string | undefined {
  const rest = first && single(minus(wholes, first))
  return first && rest ? `${single(first)} + ${rest}` : undefined
}

/** Two thirds of a usual value: three in the time of two. */
function triplet(wholes: Rational): string | undefined {
  const name = tied(times(wholes, DOTTED))
  return name && `${name} of a triplet`
}
