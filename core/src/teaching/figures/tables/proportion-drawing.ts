/** Proportions side by side over one common time. */
import { toNumber, toText, type Rational } from "../../../base/index.js"
import { drawNote, textWidth, type Box, type Item, type Mark } from "../../../drawing/index.js"
import { countText } from "../../../reading/index.js"
import type { Note } from "../../../page/index.js"
import type { Body, Plate, Room } from "../frame.js"
import { figures, letters, words } from "../letters.js"
import { drawOwn, isWhite, signsIn, type PracticeWish } from "../own-signs.js"
import { optionSource } from "../sources.js"
import { type ProportionLane, type ProportionTable } from "./proportions.js"

const NAMES: Readonly<Record<string, string>> = {
  "1": "as they are",
  "2": "dupla",
  "3": "tripla",
  "4": "quadrupla",
  "3/2": "sesquialtera",
  "4/3": "sesquitertia",
  "5/4": "sesquiquarta",
  "9/8": "sesquioctava",
  "9/4": "dupla sesquiquarta",
  "8/3": "dupla superbipartiens",
  "1/2": "subdupla",
  "2/3": "subsesquialtera",
}
const WORDS = "no one two three four five six seven eight nine".split(" ")
const inWords = (n: number): string => WORDS[n] ?? String(n)
const saysRatio = ({ num, den }: Rational): string =>
  num === den ? "" : `${inWords(num)} in the time of ${inWords(den)}`

export function proportionsPlate(table: ProportionTable): Plate {
  const { practice, lanes } = table
  const options = ["cutHalfCircle", "loneThree", "reversedC"].filter(
    (_, i) => i === 0 || lanes.some(one => (i === 1 ? /prop:3$|C3$|O3$/ : /reversed/).test(one.written)),
  )
  return {
    headline: "So many in the time of so many",
    says: `All rows last as long: ${toText(table.time)} minims of the plain half circle.`,
    caption: [
      [...new Set(["Practica musicae, 1496, IV", ...options.map(one => optionSource(practice.name, one))])].join("; "),
    ],
    alt: `Semibreves under signs and figures, all over the time of ${toText(table.time)} minims. ${lanes
      .map(
        one =>
          `${one.written.replace("prop:", "with ")}: ${one.count} semibreves of ${toText(one.duration)}${one.ratio.num === one.ratio.den ? "" : `, ${saysRatio(one.ratio)}`}.`,
      )
      .join(" ")}`,
    black: !isWhite(practice),
    draw: room => drawLanes(table, room),
  }
}

const NAME = words(30, { weight: 700 })
const SAYS = words(26)
const RATIO = figures(34, { weight: 600 })
const COUNT = figures(26, { weight: 600 })

/** Of a row's label over it, from its top: two figures one over the other keep clear of the lozenges below. */
const LABEL_MIDDLE = 30

/** Rows one under another are to fill it. */
const isTall = ({ width, height }: Room): boolean => Number.isFinite(height) && height > width * 1.2

/** Room for what a row says, where it stands over it; the less only where rows would not fit otherwise. */
const OVER = [76, 60] as const

function drawLanes(table: ProportionTable, room: Room): Body {
  const wide = room.width > 1300
  let body: Body = { items: [], height: 0, fits: false }
  for (const space of [...(isTall(room) ? [34, 32, 30, 28] : []), 26, 24, 22, 20, 18, 16, 14])
    for (const head of wide ? [0] : OVER) {
      body = drawAt(table, room, space, head)
      if (body.fits) return body
    }
  return body
}

/** `head`: room over each row for what it says; 0 where that stands beside it. */
function drawAt(table: ProportionTable, room: Room, space: number, head: number): Body {
  const wide = head === 0
  const label = wide ? 470 : 0
  const width = room.width - label
  const scale = width / toNumber(table.time)
  const crowded = Math.min(...table.lanes.map(one => toNumber(one.duration))) * scale
  const items: Item[] = []
  const over = space * 0.8
  const band = isTall(room) ? 48 : 38
  const bare = head + over * 2 + 10 + band
  const spare = Number.isFinite(room.height) ? room.height / table.lanes.length - bare : 0
  const gap = Math.max(wide ? 24 : 14, Math.min(isTall(room) ? 150 : 70, spare))
  const columns = columnsOf(table, wide)
  let y = 0
  const tops: number[] = []
  for (const lane of table.lanes) {
    const top = y + head
    items.push(...laneLabel(lane, table.practice, columns, y, label, wide))
    items.push({
      shape: "group",
      part: "lane",
      x: label,
      y: top,
      content: laneItems(lane, table.practice, { space, scale, over, band }),
    })
    tops.push(top)
    y = top + over * 2 + 10 + band + gap
  }
  const height = y - gap
  const last = tops.at(-1)! + over * 2 + 10 + band
  const stretch = wide ? [{ from: 0, to: last }] : tops.map(top => ({ from: top, to: top + over * 2 + 10 + band }))
  const heads = headsIn(table, tops, { space, scale, over, band })
  const lines = stretch.flatMap(one => pillars(table, heads, { scale, ...one, left: label }))
  const placed: Item = { shape: "group", x: room.left, y: room.top, content: [...lines, ...items] }
  return { items: [placed], height, fits: height <= room.height && crowded >= space * 1.2 + 12 }
}

const signOf = ({ written }: ProportionLane, practice: PracticeWish) =>
  drawOwn(
    signsIn(`${written} S o`, isWhite(practice)).filter(one => one.kind === "mensuration" || one.kind === "proportion"),
    { lines: 1, gap: 0.6 },
  )
const signSpace = (wide: boolean): number => (wide ? 24 : 17)
const ratioOf = ({ ratio }: ProportionLane): string => `${ratio.num} : ${ratio.den}`

/** Where ratios and names begin, alike in all rows. */
interface LabelColumns {
  readonly ratios: number
  readonly names: number
}
function columnsOf({ lanes, practice }: ProportionTable, wide: boolean): LabelColumns {
  const widths = lanes.map(lane => {
    const { left, right } = signOf(lane, practice).box
    return (right - left) * signSpace(wide) + 26
  })
  const ratios = Math.max(wide ? 96 : 72, ...widths)
  return { ratios, names: ratios + Math.max(...lanes.map(lane => textWidth(ratioOf(lane), RATIO))) + 26 }
}

/** The sign, the ratio, and what it says. */
function laneLabel(
  lane: ProportionLane,
  practice: PracticeWish,
  { ratios, names: x }: LabelColumns,
  top: number,
  room: number,
  wide: boolean,
): Item[] {
  const { item, box } = signOf(lane, practice)
  const space = signSpace(wide)
  const y = top + (wide ? 40 : LABEL_MIDDLE)
  const items: Item[] = [{ shape: "group", part: "sign", x: -box.left * space, y, scale: space, content: [item] }]
  items.push(letters(ratioOf(lane), ratios, y + 11, RATIO, { part: "ratio", fill: "ink" }))
  const name = NAMES[toText(lane.ratio)] ?? ""
  const says = saysRatio(lane.ratio)
  const nameMark = letters(name, x, wide && says !== "" ? y - 6 : y + 9, NAME, { part: "name", fill: "red" })
  if (name !== "") items.push(nameMark)
  if (wide && says !== "") {
    const short = x + textWidth(says, SAYS) <= room - 16 ? says : says.replace(" in the time of ", " for ")
    items.push(letters(short, x, y + 26, SAYS, { part: "says", fill: "second" }))
  } else if (says !== "")
    items.push(
      letters(says, x + (name === "" ? 0 : nameMark.length! + 18), y + 9, SAYS, { part: "says", fill: "second" }),
    )
  return items
}

interface LaneLook {
  readonly space: number
  readonly scale: number
  readonly over: number
  readonly band: number
}

const semibreve = (practice: PracticeWish) => {
  const [id, level] = [signsIn("S o")[0]!.id, "semibrevis"] as const
  const note: Note = { kind: "note", id, level, coloration: "none", stems: [], syllables: [] }
  return drawNote(note, 0, { white: isWhite(practice), lines: 5 })
}
/** From a moment to the left edge of its head. */
const INSET = 10

/** Semibreves where they sound, over bands as long as they last. */
function laneItems(
  { duration, count }: ProportionLane,
  practice: PracticeWish,
  { space, scale, over: half, band }: LaneLook,
): Item[] {
  const drawn = semibreve(practice)
  const each = toNumber(duration) * scale
  const bandTop = half * 2 + 10
  return Array.from({ length: count }, (_, i): Item => {
    const x = i * each
    const text = countText(duration)
    const fits = textWidth(text, COUNT) + 14 <= each
    return {
      shape: "group",
      part: "proportion-note",
      content: [
        {
          shape: "rect",
          part: "band",
          x,
          y: bandTop,
          width: each,
          height: band,
          fill: "clayFill",
          stroke: { role: "clayEdge", width: 2 },
        },
        {
          shape: "group",
          part: "value",
          x: x + INSET - drawn.body.left * space,
          y: half,
          scale: space,
          content: drawn.content,
        },
        ...(fits ? [letters(text, x + 9, bandTop + band / 2 + 9, COUNT, { part: "count", fill: "ink" })] : []),
      ],
    }
  })
}

/** Where the heads of each row stand, with a little room around. */
function headsIn(
  { lanes, practice }: ProportionTable,
  tops: readonly number[],
  { space, scale, over }: LaneLook,
): Box[] {
  const { body } = semibreve(practice)
  const width = (body.right - body.left) * space
  return lanes.flatMap(({ duration, count }, lane) =>
    Array.from({ length: count }, (_, i): Box => {
      const [left, middle] = [i * toNumber(duration) * scale + INSET, tops[lane]! + over]
      const [top, bottom] = [middle + body.top * space, middle + body.bottom * space]
      return { left: left - 3, right: left + width + 3, top: top - 5, bottom: bottom + 5 }
    }),
  )
}

const SHORTEST = 14

/** A dotted line through all rows wherever a plain breve begins: there most of them meet. It leaves out heads in its way. */
function pillars(
  { time }: ProportionTable,
  heads: readonly Box[],
  { scale, from, to, left }: { scale: number; from: number; to: number; left: number },
): Mark[] {
  return Array.from({ length: toNumber(time) / 4 + 1 }, (_, i) => i * 4 * scale).flatMap(x => {
    const line = (y1: number, y2: number): Mark => ({
      shape: "line",
      part: "pillar",
      x1: left + x,
      x2: left + x,
      y1,
      y2,
      stroke: { role: "clayEdge", width: 2.25, dash: [2.25, 5] },
    })
    const [marks, end] = [[] as Mark[], to + 8]
    let y = from - 6
    for (const { top, bottom } of heads.filter(
      one => one.left < x && one.right > x && one.top < end && one.bottom > y,
    )) {
      // what is left of it is to be a line, not a dot
      if (top > y + SHORTEST) marks.push(line(y, top))
      y = Math.max(y, bottom)
    }
    return y + SHORTEST < end ? [...marks, line(y, end)] : marks
  })
}
