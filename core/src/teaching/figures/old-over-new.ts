/** Old over new: any passage, the old sign above, its count and why, the modern sign beneath. */
import type { SignId } from "../../base/index.js"
import { reasonOf, type TimeVoice } from "../../drawing/index.js"
import { explainShort } from "../../reading/index.js"
import type { Body, Plate, Room } from "./frame.js"
import { ruleName } from "./few-words.js"
import { groupsInWords, passageInWords, placeInWords } from "./in-words.js"
import { sayWhy } from "./say-why.js"
import { arrange, groupsOf, isShared, type Arranged, type Wanted } from "./arrange.js"
import { fitStrip, fitStrips, type FittedStrip, type StripRoom } from "./strip/fit.js"
import { askedMarks, groundsOf } from "./strip/over.js"
import { isBlack, type Passage } from "./passage.js"
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
  const reason = id === undefined ? undefined : reasonOf(passage.voices, passage.readings, id)
  const named = passage.page.title.trim() || "Old over new"
  return {
    headline: headline ?? reason?.headline ?? named,
    ...(headline === undefined && reason ? { elsewhere: named } : {}),
    ...(reason ? { asked: reason.place } : {}),
    says: id === undefined ? "" : [sentenceOf(passage, id), doubtOf(passage, id)].filter(one => one !== "").join(" "),
    caption: id === undefined ? [captionFor(actingIn(passage), 1)] : [captionOf(passage, id, reason?.source ?? "")],
    ...(note === undefined ? {} : { note }),
    alt: passageInWords(passage, reason),
    black: isBlack(passage),
    foresees: room => (isShared(passage, { ...room, most: room.width * COLUMN }) ? foreseen(passage) : ""),
    draw: room =>
      drawPassage(
        id === undefined ? passage : { ...passage, asked: id },
        { id, most: inPart ? MOST : ALL, inPart },
        { ...room, most: room.width * COLUMN },
      ),
  }
}

/** In one picture, or in as few as it takes, each of whole perfections; voices too many for one stand apart. */
function drawPassage(passage: Passage, wanted: Wanted & { id: SignId | undefined }, room: StripRoom): Body[] {
  const chosen = arrange(passage, wanted, room)
  const stretches = chosen?.parts.map(part => groupsOf(part, chosen.groups))
  const fitted = chosen && stretches && fittedAll(stretches, chosen, room)
  if (!fitted || (chosen.cut && !wanted.inPart)) return [{ items: [], height: 0, fits: false }]
  const cut = chosen.cut ? { cutAt: chosen.parts.at(-1)!.to } : {}
  const made = chosen.groups.length > 1 ? { made: groupsInWords(stretches!, chosen.rows.modern === "staff") } : {}
  return fitted.map((one, i) => {
    const body = { ...bodyOf(one, wanted.id, room), ...cut, ...made }
    return fitted.length > 1 ? { ...body, ...told(stretches!, i, body.silent ? undefined : wanted.id) } : body
  })
}

function fittedAll(
  stretches: readonly (readonly Passage[])[],
  { rows }: Arranged,
  room: StripRoom,
): FittedStrip[] | undefined {
  if (stretches.length * stretches[0]!.length > 1) return fitStrips(stretches, rows, { ...room, filled: true })
  const fitted = fitStrip(stretches[0]![0]!, rows, room)
  return fitted.fits ? [fitted] : undefined
}

/** About as long as what pictures of groups of voices will say of themselves. */
function foreseen(passage: Passage): string {
  const half = Math.ceil(passage.voices.length / 2)
  const groups = [passage.voices.slice(0, half), passage.voices.slice(half)].map(voices => ({ ...passage, voices }))
  return placeInWords([groups, groups], 0)
}

/** What one of several pictures says of itself. */
function told(
  stretches: readonly (readonly Passage[])[],
  i: number,
  id: SignId | undefined,
): Pick<Body, "alt" | "shows"> {
  const passage = stretches.flat()[i]!
  const reason = id === undefined ? undefined : reasonOf(passage.voices, passage.readings, id)
  const place = placeInWords(stretches, i)
  return { alt: `${place} ${passageInWords(passage, reason)}`, ...(stretches[0]!.length > 1 ? { shows: place } : {}) }
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
  const said = reasonOf(passage.voices, passage.readings, id)?.sentences ?? ""
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
