/** Beams: slanting a little with their notes, all stems of a group ending on them. In units; y is 0 on the bottom line. */
import { yOf, type Mark } from "../../../drawing/index.js"
import { flagsOf, stemAt } from "../modern/forms.js"
import type { ModernSign } from "./modern-voice.js"

export interface Beam {
  readonly signs: readonly ModernSign[]
  readonly marks: readonly Mark[]
  /** Where a stem at x ends. */
  heightAt(x: number): number
}

/** In staff spaces, as the font's engraving defaults have them. */
const [THICK, APART, STEM] = [0.5, 0.75, 3.2]
/** A beam rises or falls by no more. */
const SLANT = 0.8

export function beamsOf(signs: readonly ModernSign[], xOf: (sign: ModernSign) => number, space: number): Beam[] {
  const groups = new Map<number, ModernSign[]>()
  for (const sign of signs) if (sign.beam !== undefined) groups.set(sign.beam, [...(groups.get(sign.beam) ?? []), sign])
  return [...groups.values()].flatMap(group => (group.length > 1 ? [beamOf(group, xOf, space)] : []))
}

function beamOf(signs: readonly ModernSign[], xOf: (sign: ModernSign) => number, space: number): Beam {
  const [first, last] = [signs[0]!, signs.at(-1)!]
  const up = first.direction === "up"
  const xs = signs.map(one => xOf(one) + stemAt(one.direction) * space)
  const ys = signs.map(one => yOf(one.position) * space)
  const wide = Math.max(1, xs.at(-1)! - xs[0]!)
  const rise = Math.max(-SLANT, Math.min(SLANT, (yOf(last.position) - yOf(first.position)) / 2)) * space
  const slope = rise / wide
  const side = up ? -1 : 1
  const flags = Math.max(...signs.map(one => flagsOf(one.sign.value.dur)))
  const long = (STEM + Math.max(0, flags - 1) * APART) * space
  // so far out that every stem is long enough
  const offsets = signs.map((_, i) => ys[i]! + side * long - slope * (xs[i]! - xs[0]!))
  const start = up ? Math.min(...offsets) : Math.max(...offsets)
  const heightAt = (x: number) => start + slope * (x - xs[0]!)
  return { signs, marks: beamMarks(signs, xs, heightAt, side, space), heightAt }
}

/** The first beam through all; further ones where neighbours have them, or as a stub. */
function beamMarks(
  signs: readonly ModernSign[],
  xs: readonly number[],
  heightAt: (x: number) => number,
  side: number,
  space: number,
): Mark[] {
  const thick = -side * THICK * space
  const bar = (from: number, to: number, level: number): Mark => {
    const shift = -side * APART * level * space
    return {
      shape: "polygon",
      part: "beam",
      points: [
        [from, heightAt(from) + shift],
        [to, heightAt(to) + shift],
        [to, heightAt(to) + shift + thick],
        [from, heightAt(from) + shift + thick],
      ],
      fill: "second",
    }
  }
  const marks = [bar(xs[0]! - 1, xs.at(-1)! + 1, 0)]
  const flags = signs.map(one => flagsOf(one.sign.value.dur))
  for (let level = 1; level < Math.max(...flags); level++)
    flags.forEach((own, i) => {
      if (own <= level) return
      if ((flags[i + 1] ?? 0) > level) marks.push(bar(xs[i]!, xs[i + 1]!, level))
      else if ((flags[i - 1] ?? 0) <= level) {
        const stub = (i === 0 ? 1 : -1) * 1.1 * space
        marks.push(bar(Math.min(xs[i]!, xs[i]! + stub), Math.max(xs[i]!, xs[i]! + stub), level))
      }
    })
  return marks
}
