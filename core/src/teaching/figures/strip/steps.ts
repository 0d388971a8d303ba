/** All steps of a series on one sheet: the old staff, the bands that each step adds in a row of their own, and the result. */
import type { SignId } from "../../../base/index.js"
import { drawBands, type Item } from "../../../drawing/index.js"
import type { Body, Room } from "../frame.js"
import { letters, words } from "../letters.js"
import type { Passage } from "../passage.js"
import { axesOf, type AxisRoom, type StripAxis } from "./axes.js"
import { perfectionsOf, sumsRow } from "./counts.js"
import { oldStaff, placeOld, type StripSystem } from "./draw.js"
import { SLEEVE, stripLook } from "./look.js"
import { modernRow } from "./modern-staff.js"
import { groundsOf } from "./over.js"
import { planStrip, type StripPlan } from "./plan.js"
import { sungItems } from "./sung.js"

const NAME = words(32, { weight: 700 })
const NAME_ROOM = 262
/** Before moment zero, where the rows of bands have nothing else. */
const SMALL_NAME = words(27, { weight: 700 })
const SMALL_NAME_ROOM = 212
const NAMES = ["1 Signs", "2 Perfections", "3 Imperfections", "4 Alterations", "5 Result"]

type Steps = ReadonlyMap<SignId, number>

/** Names of the rows stand beside the staves, or in the room of the clefs where there is too little. */
export function drawSteps(passage: Passage, steps: Steps, room: Room): Body {
  let last: Body = { items: [], height: 0, fits: false }
  for (const space of [34, 31, 28, 26, 24, 22, 20, 18, 16])
    for (const beside of room.width > 800 ? [true, false] : [false]) {
      const planned = planStrip(passage, stripLook(space, { sung: true, sums: true, modern: "staff" }))
      const plan = beside ? planned : { ...planned, lead: Math.max(planned.lead, SMALL_NAME_ROOM) }
      const indent = beside ? NAME_ROOM : 0
      const place = { left: room.left + indent, width: room.width - indent }
      const axes = linesFor(plan, place)
      if (!axes) continue
      const drawn = drawSystems(plan, axes, steps, room, beside)
      last = { ...drawn, fits: drawn.height <= room.height }
      if (last.fits) return last
    }
  return last
}

/** In as few lines as the width allows, which end inside perfections only where they must. */
function linesFor(plan: StripPlan, place: AxisRoom): StripAxis[] | undefined {
  for (const within of [false, true])
    for (const lines of [1, 2, 3, 4, 5, 6]) {
      const axes = axesOf(plan, place, lines, within)
      if (axes) return axes
    }
  return undefined
}

function drawSystems(plan: StripPlan, axes: readonly StripAxis[], steps: Steps, room: Room, beside: boolean) {
  const items: Item[] = []
  const systems: StripSystem[] = []
  let y = room.top
  for (const axis of axes) {
    const drawn = drawSystem(plan, axis, steps, { left: room.left, top: y + (systems.length > 0 ? 40 : 0) }, beside)
    items.push(...drawn.items)
    systems.push(drawn.system)
    y = drawn.bottom
  }
  return { items: [...groundsOf({ systems }), ...items], height: y - room.top }
}

function drawSystem(
  plan: StripPlan,
  axis: StripAxis,
  steps: Steps,
  { left, top }: { left: number; top: number },
  beside: boolean,
) {
  const { look, lead } = plan
  const voice = plan.voices[0]!
  const items: Item[] = []
  const name = (i: number, y: number) =>
    void items.push(letters(NAMES[i]!, left, y, beside ? NAME : SMALL_NAME, { part: "step-name", fill: "red" }))
  const above = beside ? 0 : 36
  const placed = placeOld(voice, plan, axis, top + above)
  name(0, beside ? (placed.staffTop + placed.staffBottom) / 2 + 8 : top + 26)
  items.push(...oldStaff(voice, placed, plan, axis), ...sungItems(placed, look))
  // a name over a row keeps clear of a clef that hangs below its staff
  const hung = beside ? 0 : placed.staffBottom + voice.opening.box.bottom + 8
  let y = Math.max(placed.bandTop - SLEEVE, hung)
  for (const step of [2, 3, 4, 5]) {
    const bandTop = y + SLEEVE
    name(step - 1, bandTop + look.band / 2 + 11)
    const isHere = (id: SignId | undefined) => step === 5 || (id !== undefined && steps.get(id) === step)
    const bands = drawBands({ ...placed, bandTop }, look.bands)
    items.push(...bands.filter(one => one.shape === "group" && isHere(one.sign)))
    y = bandTop + look.band + SLEEVE + 12
  }
  const all = perfectionsOf(
    voice.formed.time,
    placed.signs.map(one => one.timed),
  )
  const sums = sumsRow(all, axis, y - 10)
  items.push(...sums.items)
  const counted = y - 10 + sums.height
  const row = modernRow(voice.modern!, voice.modernOpening!, axis, lead, look)
  const foot = counted + row.above + 12 + 4 * look.modernSpace
  items.push({ shape: "group", part: "modern-staff", y: foot, content: row.items })
  const bottom = foot + row.below + 4
  return { items, bottom, system: { axis, voices: [{ placed, top, counted, bottom, sums: { top: y - 10, all } }] } }
}
