/** How far an outline really reaches: curves are followed, where a box of their points would be too large. */
import type { Box, Path } from "../scene/scene.js"

/** Pieces in which a curve is looked at: true to less than a hundredth of what it bends. */
const PIECES = 24

export function extentOf(path: Path): Box {
  const points: (readonly [number, number])[] = []
  let [x, y] = [0, 0]
  for (const step of path) {
    if (step[0] === "Z") continue
    const [, ...numbers] = step
    const ends = [x, y, ...numbers]
    for (let piece = 1; piece <= PIECES; piece++) points.push(onCurve(ends, piece / PIECES))
    if (step[0] === "M") points.splice(-PIECES, PIECES, [step[1], step[2]])
    ;[x, y] = numbers.slice(-2) as [number, number]
  }
  const xs = points.map(point => point[0])
  const ys = points.map(point => point[1])
  return { left: Math.min(...xs), right: Math.max(...xs), top: Math.min(...ys), bottom: Math.max(...ys) }
}

/** A point of the curve that these points bend, so far along it: the middle of middles, as often as there are points. */
function onCurve(numbers: readonly number[], along: number): readonly [number, number] {
  if (numbers.length === 2) return [numbers[0]!, numbers[1]!]
  const between = Array.from({ length: numbers.length - 2 }, (_, i) => {
    const [from, to] = [numbers[i]!, numbers[i + 2]!]
    return from + (to - from) * along
  })
  return onCurve(between, along)
}
