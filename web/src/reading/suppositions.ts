/** What might be supposed of a sign: single changes of the page, in words that follow "If". */
import {
  LEVELS,
  levelName,
  markAfter,
  PRACTICES,
  signId,
  type FlatSign,
  type Level,
  type Note,
  type Page,
  type PageChange,
  type Rest,
  type Sign,
  type SignId,
  type Voice,
} from "@resolutio/core"
import { signOf, voiceOf } from "../document/index-signs.js"
import { words } from "../words/index.js"

export interface Supposition {
  readonly words: string
  readonly change: PageChange
}
const said = words.suppose

export function suppositionsOf(page: Page, id: SignId): Supposition[] {
  const voice = voiceOf(page, id)
  const found = signOf(page, id)
  if (!voice || !found) return []
  return [...ofSign(page, voice, found), ...practicesOf(voice), ...practicesOfAll(page)]
}

function ofSign(page: Page, voice: Voice, found: FlatSign): Supposition[] {
  const { sign } = found
  switch (sign.kind) {
    case "note":
      return [...gone(found), ...levels(sign), ...dots(page, voice, found), ...colours(voice, sign), ...stems(sign)]
    case "rest":
      return [...gone(found), ...levels(sign), ...dots(page, voice, found)]
    case "mensuration":
      return [...gone(found), ...otherSigns(sign)]
    default:
      return gone(found)
  }
}

/** The last note of a ligature takes it along. */
function gone({ sign, ligature }: FlatSign): Supposition[] {
  const { kinds } = said
  const name =
    (sign.kind === "note" || sign.kind === "rest") && sign.level
      ? `${levelName(sign.level)}${sign.kind === "rest" ? " rest" : ""}`
      : sign.kind in kinds
        ? kinds[sign.kind as keyof typeof kinds]
        : undefined
  if (name === undefined) return []
  const whole = ligature?.members.length === 1 ? ligature.id : sign.id
  return [{ words: said.gone(name), change: { kind: "delete-sign", sign: whole } }]
}

/** The next larger and the next smaller. */
function levels(sign: Note | Rest): Supposition[] {
  if (sign.level === undefined) return []
  const at = LEVELS.indexOf(sign.level)
  return [LEVELS[at - 1], LEVELS[at + 1]]
    .filter((level): level is Level => level !== undefined)
    .map(level => ({ words: said.level(levelName(level)), change: replaced({ ...sign, level }) }))
}

function dots(page: Page, voice: Voice, { sign, ligature }: FlatSign): Supposition[] {
  const mark = markAfter(page, sign)
  if (mark?.kind === "dot") return [{ words: said.noDot, change: { kind: "delete-sign", sign: mark.id } }]
  const run: readonly Sign[] = ligature ? ligature.members : voice.signs
  const next = run[run.findIndex(one => one.id === sign.id) + 1]
  const change: PageChange = {
    kind: "insert-sign",
    voice: voice.id,
    ...(ligature ? { ligature: ligature.id } : {}),
    ...(next ? { before: next.id } : {}),
    sign: { id: signId(`supposed-${sign.id}`), kind: "dot" },
  }
  return [{ words: said.dot, change }]
}

function colours({ notation }: Voice, sign: Note): Supposition[] {
  if (sign.coloration !== "none") return [{ words: said.plain, change: replaced({ ...sign, coloration: "none" }) }]
  if (notation === "white") return [{ words: said.filled, change: replaced({ ...sign, coloration: "black" }) }]
  return [
    { words: said.red, change: replaced({ ...sign, coloration: "red" }) },
    { words: said.void, change: replaced({ ...sign, coloration: "void" }) },
  ]
}

/** Of a lozenge, where a stem down makes it longer. */
function stems(sign: Note): Supposition[] {
  if (sign.level !== "semibrevis") return []
  const others = sign.stems.filter(one => one.direction !== "down")
  if (others.length < sign.stems.length) return [{ words: said.noStem, change: replaced({ ...sign, stems: others }) }]
  return [{ words: said.stem, change: replaced({ ...sign, stems: [...others, { direction: "down" }] }) }]
}

const FOUR = [
  { shown: "O", sign: "O", dots: 0 },
  { shown: "O.", sign: "O", dots: 1 },
  { shown: "C", sign: "C", dots: 0 },
  { shown: "C.", sign: "C", dots: 1 },
] as const

function otherSigns(sign: Extract<Sign, { kind: "mensuration" }>): Supposition[] {
  return FOUR.filter(one => one.sign !== sign.sign || one.dots !== (sign.dots ?? 0)).map(
    ({ shown, sign: shape, dots }) => {
      const { dots: _, ...rest } = sign
      return { words: said.sign(shown), change: replaced({ ...rest, sign: shape, ...(dots > 0 ? { dots } : {}) }) }
    },
  )
}

const replaced = (sign: Sign): PageChange => ({ kind: "replace-sign", sign })

function practicesOf(voice: Voice): Supposition[] {
  return PRACTICES.filter(one => one.name !== voice.practice?.name).map(({ name, title }) => ({
    words: said.practice(voice.label || voice.n, title),
    change: readBy(voice, name),
  }))
}

/** The whole piece by one practice, whatever its voices say of themselves. */
function practicesOfAll({ voices }: Page): Supposition[] {
  if (voices.length < 2) return []
  return PRACTICES.filter(({ name }) => voices.some(one => one.practice?.name !== name)).map(({ name, title }) => ({
    words: said.practiceOfAll(title),
    change: { kind: "several", changes: voices.map(voice => readBy(voice, name)) },
  }))
}

const readBy = (voice: Voice, name: string): PageChange => ({
  kind: "set-voice",
  voice: voice.id,
  set: { practice: { name, options: {} } },
})
