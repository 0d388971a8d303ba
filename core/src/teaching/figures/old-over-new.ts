/** Old over new: any passage, the old sign above, its count and why, the modern sign beneath. */
import type { SignId } from "../../base/index.js"
import { reasonOf, type TimeVoice } from "../../drawing/index.js"
import { explainShort } from "../../reading/index.js"
import type { Body, Plate, Room } from "./frame.js"
import { ruleName } from "./few-words.js"
import { passageInWords } from "./in-words.js"
import { sayWhy } from "./say-why.js"
import { cutsOf } from "./strip/axes.js"
import { fitStrip, fitStrips, type FittedStrip } from "./strip/fit.js"
import type { Rows } from "./strip/look.js"
import { askedMarks, groundsOf } from "./strip/over.js"
import { isBlack, type Passage } from "./passage.js"

export interface OldOverNew {
  readonly passage: Passage
  /** The sign that is asked about; without it the one with the most to tell; null: none. */
  readonly select?: SignId | null
  readonly headline?: string
  readonly note?: string
}

export function oldOverNew({ passage, select, headline, note }: OldOverNew): Plate {
  const id = select === undefined ? mostTelling(passage) : (select ?? undefined)
  const reason = id === undefined ? undefined : reasonOf(passage.voices, id)
  return {
    headline: headline ?? reason?.headline ?? (passage.page.title || "Old over new"),
    ...(reason ? { asked: reason.place } : {}),
    says: id === undefined ? "" : [sentenceOf(passage, id), doubtOf(passage, id)].filter(one => one !== "").join(" "),
    caption: id === undefined ? [] : [captionOf(passage, id, reason?.source ?? "")],
    ...(note === undefined ? {} : { note }),
    alt: passageInWords(passage, reason),
    black: isBlack(passage),
    draw: room => drawPassage(passage, id, room),
  }
}

/** What is shown of each voice; less where several voices have little room. */
const ROWS: readonly Rows[] = [
  { words: true, sums: true, modern: "staff" },
  { words: true, modern: "staff" },
  { modern: "staff" },
  { words: true, modern: "values" },
  { modern: "values" },
  {},
]
/** A passage that takes more pictures than these is too long for a figure. */
const NUMBERS = [1, 2, 3, 4, 5, 6, 8, 10, 12, 16, 20, 24, 32, 40]

/** In one picture, or in as few as it takes, each of whole perfections and all of one scale; else voice by voice. */
function drawPassage(passage: Passage, id: SignId | undefined, room: Room): Body[] {
  const variants = passage.voices.length > 1 ? ROWS : ROWS.slice(0, 3)
  const rubrics = room.width > 1300 ? "left" : "above"
  for (const pictures of NUMBERS) {
    const parts = partsOf(passage, pictures)
    if (!parts) break
    for (const rows of variants) {
      const fitted = fittedParts(parts, { ...rows, rubrics }, room)
      if (fitted) return fitted.map(one => bodyOf(one, id, room))
    }
  }
  const { voices } = passage
  if (voices.length < 2) return [bodyOf(fitStrip(passage, { ...ROWS.at(-1)!, rubrics }, room), id, room)]
  // more voices than there is room for stand in several pictures
  const half = Math.ceil(voices.length / 2)
  return [voices.slice(0, half), voices.slice(half)].flatMap(own => drawPassage({ ...passage, voices: own }, id, room))
}

function fittedParts(parts: readonly Passage[], rows: Rows, room: Room): FittedStrip[] | undefined {
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

function partsOf(passage: Passage, n: number): Passage[] | undefined {
  const cuts = n === 1 ? [passage.from, passage.to] : cutsOf(passage.voices, passage.from, passage.to, n)
  return cuts?.slice(1).map((to, i) => ({ ...passage, from: cuts[i]!, to }))
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
