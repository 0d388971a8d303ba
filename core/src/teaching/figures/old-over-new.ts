/** Old over new: any passage, the old sign above, its count and why, the modern sign beneath. */
import type { SignId } from "../../base/index.js"
import { reasonOf, ruledOf, type TimeVoice } from "../../drawing/index.js"
import { explainShort } from "../../reading/index.js"
import type { Body, Plate, Room } from "./frame.js"
import { ruleName } from "./few-words.js"
import { passageInWords } from "./in-words.js"
import { sayWhy } from "./say-why.js"
import { partsOf, type Parts } from "./parts.js"
import { fitsAtAll, fitStrip, fitStrips, type FittedStrip, type StripRoom } from "./strip/fit.js"
import type { Rows } from "./strip/look.js"
import { askedMarks, groundsOf } from "./strip/over.js"
import { isBlack, NEAR, type Passage } from "./passage.js"
import { actingIn, captionFor } from "./sources.js"

export interface OldOverNew {
  readonly passage: Passage
  /** The sign that is asked about; without it the one with the most to tell; null: none. */
  readonly select?: SignId | null
  readonly headline?: string
  readonly note?: string
  /** What would take more than twelve pictures is shown in part; else up to forty are made. */
  readonly inPart?: boolean
}

const [MOST, ALL] = [12, 40]
/** So many times its width a column of print may be high. */
const COLUMN = 2.6

export function oldOverNew({ passage, select, headline, note, inPart = false }: OldOverNew): Plate {
  const id = select === undefined ? mostTelling(passage) : (select ?? undefined)
  const reason = id === undefined ? undefined : reasonOf(passage.voices, id)
  return {
    headline: headline ?? reason?.headline ?? (passage.page.title || "Old over new"),
    ...(reason ? { asked: reason.place } : {}),
    says: id === undefined ? "" : [sentenceOf(passage, id), doubtOf(passage, id)].filter(one => one !== "").join(" "),
    caption: id === undefined ? [captionFor(actingIn(passage), 1)] : [captionOf(passage, id, reason?.source ?? "")],
    ...(note === undefined ? {} : { note }),
    alt: passageInWords(passage, reason),
    black: isBlack(passage),
    draw: room =>
      drawPassage(passage, { id, most: inPart ? MOST : ALL, inPart }, { ...room, most: room.width * COLUMN }),
  }
}

/** What is shown of each voice; less where several voices have little room. */
const ROWS: readonly Rows[] = [
  { sung: true, words: true, sums: true, modern: "staff" },
  { sung: true, words: true, modern: "staff" },
  { sung: true, modern: "staff" },
  { modern: "staff" },
  { sung: true, words: true, modern: "values" },
  { sung: true, modern: "values" },
  { modern: "values" },
  { modern: "values", tight: true },
]

interface Wanted {
  readonly id: SignId | undefined
  /** No more than so many pictures of a group of voices; more are a passage that is too long. */
  readonly most: number
  /** What is too long is shown in part. */
  readonly inPart: boolean
}

/** In one picture, or in as few as it takes, each of whole perfections; voices too many for one stand apart. */
function drawPassage(passage: Passage, wanted: Wanted, room: StripRoom): Body[] {
  const { voices } = passage
  const rubrics: Rows["rubrics"] = room.width > 1300 ? "left" : "above"
  const variants = ROWS.filter(({ modern }) => voices.length > 1 || modern === "staff").map(rows => ({
    ...rows,
    rubrics,
  }))
  const chosen = partsAndRows(passage, variants, wanted, room)
  if (chosen) return drawParts(chosen, wanted, room)
  if (voices.length < 2) return [{ items: [], height: 0, fits: false }]
  const half = Math.ceil(voices.length / 2)
  const each = { ...wanted, most: Math.ceil(wanted.most / 2) }
  return [voices.slice(0, half), voices.slice(half)].flatMap(own =>
    drawPassage({ ...passage, voices: own }, each, room),
  )
}

interface Chosen extends Parts {
  readonly rows: Rows
}

/** The fewest pictures are those with the fewest rows; for a modern staff there may be more. */
function partsAndRows(
  passage: Passage,
  variants: readonly Rows[],
  { most }: Wanted,
  room: StripRoom,
): Chosen | undefined {
  const withRows = (rows: Rows, most: number): Chosen | undefined => {
    const found = partsOf(passage, part => fitsAtAll(part, rows, room), most)
    return found && { ...found, rows }
  }
  const fewest = withRows(variants.at(-1)!, most)
  if (!fewest || (fewest.cut === "wide" && passage.voices.length > 1)) return undefined
  const n = fewest.parts.length
  for (const rows of variants.slice(0, -1)) {
    if (!fitsAtAll(firstOf(passage), rows, room)) continue
    const more = rows.modern === "staff" && !fewest.cut ? Math.min(n * FOR_STAFF, most) : n
    const found = withRows(rows, more)
    const enough = found && (fewest.cut ? upTo(found) > upTo(fewest) * 0.6 : !found.cut)
    if (enough) return found
  }
  return fewest
}
/** So many times the pictures for a modern staff in place of bare values. */
const FOR_STAFF = 2
const upTo = ({ parts }: Parts): number => parts.at(-1)!.to - parts[0]!.from

function drawParts({ parts, rows, cut }: Chosen, { id, inPart }: Wanted, room: StripRoom): Body[] {
  const fitted = fittedParts(parts, rows, room)
  if (!fitted || (cut && !inPart)) return [{ items: [], height: 0, fits: false }]
  const bodies = fitted.map(one => bodyOf(one, id, room))
  return cut ? bodies.map(one => ({ ...one, cutAt: parts.at(-1)!.to })) : bodies
}

/** As much as stands in any picture: its first perfection. */
function firstOf(passage: Passage): Passage {
  const { voices, from, to } = passage
  const end = voices[0] && ruledOf(voices[0], to).pillars.find(({ at }) => at > from + NEAR && at < to - NEAR)
  return end ? { ...passage, to: end.at } : passage
}

function fittedParts(parts: readonly Passage[], rows: Rows, room: StripRoom): FittedStrip[] | undefined {
  if (parts.length > 1) return fitStrips(parts, rows, { ...room, filled: true })
  const fitted = fitStrip(parts[0]!, rows, room)
  return fitted.fits ? [fitted] : undefined
}

function bodyOf({ strip, look, fits }: FittedStrip, id: SignId | undefined, room: Room): Body {
  const asked = id === undefined ? [] : askedMarks(strip, id, look)
  const items = [...groundsOf(strip), ...strip.items, ...asked]
  const elsewhere = id !== undefined && asked.length === 0
  return { items, height: strip.bottom - room.top, fits, ...(elsewhere ? { silent: true } : {}) }
}

const find = ({ voices }: Passage, id: SignId) => {
  const voice = voices.find(one => one.byId.has(id))
  const timed = voice?.signs.find(one => one.sign.id === id)
  return voice && timed && { voice, timed }
}
const sentenceOf = (passage: Passage, id: SignId): string => {
  const found = find(passage, id)
  return found ? sayWhy(found.timed, found.voice) : ""
}
/** What else it might be, where that is not far-fetched. */
const doubtOf = (passage: Passage, id: SignId): string => {
  const found = find(passage, id)
  if (!found) return ""
  const said = reasonOf(passage.voices, id)?.sentences ?? ""
  return said.replace(explainShort(found.voice.reading, found.timed.reading), "").trim()
}

const captionOf = (passage: Passage, id: SignId, source: string): string => {
  const rule = passage.voices.flatMap(one => one.signs).find(one => one.sign.id === id)?.reading.rule ?? ""
  return [ruleName(rule), source].filter(one => one !== "").join(" · ")
}

/** From the most to the least worth telling. */
const TELLING = [
  "alteratio-et-imperfectio",
  "alteratio",
  "imperfectio-ad-totum-et-partem",
  "imperfectio-ad-partem",
  "coloratio",
  "minor-color",
  "imperfectio-a-parte-ante",
  "imperfectio-a-parte-post",
  "punctus-perfectionis",
  "punctus-additionis",
  "semibrevis-minor-maior",
  "similis-ante-similem",
]

/** In more signs than these no single one is asked about unasked. */
const MANY = 40

/** The sign that most needs a reason. */
function mostTelling({ voices, from, to }: Passage): SignId | undefined {
  const inside = (voice: TimeVoice) => voice.signs.filter(one => one.at >= from && one.at < to && !one.held)
  const signs = voices.flatMap(inside)
  if (signs.length > MANY) return undefined
  for (const rule of TELLING) {
    const found = signs.find(one => one.reading.rule === rule)
    if (found) return found.sign.id
  }
  return undefined
}
