/** For tests: written signs as short text. */
import type { LayerItem } from "../notated.js"
import type { ModernValue } from "../values.js"
import type { SplitItem, SplitSign } from "../split.js"

type Signs = Pick<SplitSign, "event" | "value">

/** "4." a dotted quarter, "r8" a rest, "~" tied to the next sign, "(3:2 8 4)" a tuplet. */
export function shownSigns(items: readonly SplitItem[]): string {
  const flat = items.flatMap(item => (item.kind === "tuplet" ? item.signs : [item]))
  const text = (sign: Signs): string => {
    const next = flat[flat.indexOf(sign as SplitSign) + 1]
    const tie = sign.event.kind === "note" && next?.event === sign.event ? "~" : ""
    return `${sign.event.kind === "rest" ? "r" : ""}${sign.value.dur}${sign.value.dots ? "." : ""}${tie}`
  }
  return items
    .map(item =>
      item.kind === "sign" ? text(item) : `(${item.num}:${item.numbase} ${item.signs.map(text).join(" ")})`,
    )
    .join(" ")
}

/**
 * The same of a layer, with "|" for a line of this voice alone, "R" for a rest of one bar, "[3/4]" for a meter,
 * "=4" for the time in a bar of a note that is written whole, "2=4" with its beginning.
 */
export function shownLayer(layer: readonly LayerItem[]): string {
  return layer
    .map(item => {
      switch (item.kind) {
        case "line":
          return "|"
        case "bar-rest":
          return "R"
        case "meter":
          return `[${item.meter.count}/${item.meter.unit}]`
        case "signature":
          return "[key]"
        case "sign":
          return `${item.event.kind === "rest" ? "r" : ""}${item.value.dur}${item.value.dots ? "." : ""}${item.event.kind === "note" && !item.last ? "~" : ""}${item.share ? valuesText(item.share) : ""}`
        case "continued":
          return valuesText(item.values)
        case "tuplet":
          return `(${item.num}:${item.numbase} ${shownLayer(item.signs)})`
      }
    })
    .join(" ")
}

function valuesText(values: readonly ModernValue[]): string {
  return `=${values.map(({ dur, dots }) => `${dur}${dots ? "." : ""}`).join("+")}`
}
