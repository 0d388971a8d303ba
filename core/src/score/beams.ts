/** Which short notes may share a beam. */
import type { LayerItem, NotatedSign } from "./notated.js"

/** Neighbouring short notes of one beat in lists of their own, two or more; everything else as it is. */
export function beamGroups(items: readonly LayerItem[]): (LayerItem | NotatedSign[])[] {
  const groups: (LayerItem | NotatedSign[])[] = []
  for (const item of items) {
    const open = groups.at(-1)
    if (item.kind !== "sign" || !isBeamable(item)) groups.push(item)
    else if (Array.isArray(open) && open[0]!.beat === item.beat && !bearsPlica(open.at(-1)!)) open.push(item)
    else groups.push([item])
  }
  return groups.map(group => (Array.isArray(group) && group.length === 1 ? group[0]! : group))
}

export function isBeamable(sign: NotatedSign): boolean {
  return sign.event.kind === "note" && Number(sign.value.dur) >= 8
}

/** The last part of a note with a plica: the small note of the plica follows it. */
export function bearsPlica(sign: NotatedSign): boolean {
  return sign.last && sign.event.kind === "note" && sign.event.plica !== undefined
}
