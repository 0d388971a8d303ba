/** The signs of a voice as forms. Signs that look alike have one form between them. */
import type { Note, Rest } from "../../page/index.js"
import type { Item } from "../scene/scene.js"
import {
  accidentalPath,
  accidentalWidth,
  drawNote,
  drawSign,
  editorial,
  inked,
  markBox,
  noteKey,
  restKey,
  type Drawn,
  type LookKey,
  type SignStyle,
} from "../signs/index.js"
import { besideForm } from "./beside.js"
import { alike, dotsAfter, heightOf, NO_FORM, scaledBox, single, styleFor, withDots, type Form } from "./form.js"
import { echoForm, isVoidEcho, ligatureForm } from "./ligature-forms.js"
import type { Look } from "./options.js"
import type { Beside, TimedSign, TimeVoice } from "./timeline.js"

/** Forms of one size of picture, by what they look like. */
export class FormBook {
  readonly look: Look
  readonly #known = new Map<LookKey, Form>()
  readonly #heads = new Map<LookKey, Drawn>()
  readonly #single = new WeakMap<TimedSign, Form>()
  readonly #before = new WeakMap<readonly Beside[], { readonly timed: TimedSign; readonly form: Form }>()

  constructor(look: Look) {
    this.look = look
  }

  /** How many forms it holds. */
  get count(): number {
    return this.#known.size
  }

  /** Of the note or rest of this number in a voice. Those of a ligature's later notes are echoes. */
  formOf(voice: TimeVoice, at: number): Form {
    const timed = voice.signs[at]!
    const { sign, ligature, inLigature } = timed
    if (ligature && inLigature === 0 && sign.kind === "note")
      return this.#own(timed, () => ligatureForm(voice, at, ligature, this.look))
    const plain = timed.after.length === 0 && sign.editorial === undefined
    if (ligature && sign.kind === "note")
      return this.#form(timed, plain, echoKey(timed, voice.style), () => echoForm(timed, voice.style, this.look))
    if (sign.kind === "rest")
      return this.#form(timed, plain, restKey(sign, voice.style), () => restForm(timed, sign, voice.style, this.look))
    const key = noteKey(sign, timed.position, voice.style)
    return this.#form(timed, plain, key, () =>
      noteForm(timed, sign, this.#head(timed, sign, key, voice.style), this.look),
    )
  }

  /** What is the same for all notes that look so, whatever dots stand behind them. */
  #head(timed: TimedSign, note: Note, key: LookKey, style: SignStyle): Drawn {
    const known =
      this.#heads.get(key) ?? drawNote(note, heightOf(timed.position, this.look), styleFor(style, this.look))
    this.#heads.set(key, known)
    return known
  }

  /** A note whose accidental stands over it, since there is no room before it; undefined where it has none. */
  raised(timed: TimedSign, style: SignStyle): Form | undefined {
    const { sign } = timed
    if (sign.kind !== "note" || timed.ligature || sign.accidental === undefined || sign.accidentalByEditor)
      return undefined
    const plain = timed.after.length === 0 && sign.editorial === undefined
    const make = () => raisedForm(timed, sign, style, this.look)
    return plain ? this.#alike(`raised ${noteKey(sign, timed.position, style)}`, make) : make()
  }

  /** What stands before a note or rest, on the left of its head. */
  beforeOf(timed: TimedSign, style: SignStyle): Form {
    const { before } = timed
    if (before.length === 0) return NO_FORM
    const known = this.#before.get(before)
    if (known?.timed === timed) return known.form
    const form = besideForm(before, timed, style, this.look)
    this.#before.set(before, { timed, form })
    return form
  }

  #form(timed: TimedSign, plain: boolean, key: LookKey, make: () => Form): Form {
    return plain ? this.#alike(key, make) : this.#own(timed, make)
  }
  #alike(key: LookKey, make: () => Form): Form {
    const known = this.#known.get(key) ?? make()
    this.#known.set(key, known)
    return known
  }
  #own(timed: TimedSign, make: () => Form): Form {
    const known = this.#single.get(timed) ?? make()
    this.#single.set(timed, known)
    return known
  }
}

/** The last few sizes of picture that were asked for: most drawings are drawn again and again at one. */
const books = new Map<string, FormBook>()
const MOST_BOOKS = 4
const MOST_FORMS = 4000

/** The book for this size of picture, with what was drawn before. */
export function bookFor(look: Look): FormBook {
  const key = `${look.size} ${look.width} ${look.compact} ${look.words} ${look.modern} ${look.over}`
  const known = books.get(key)
  const book = known && known.count < MOST_FORMS ? known : new FormBook(look)
  books.delete(key)
  books.set(key, book)
  for (const oldest of books.keys()) if (books.size > MOST_BOOKS) books.delete(oldest)
  return book
}

const echoKey = (timed: TimedSign, style: SignStyle): string =>
  `echo ${timed.reading.level} ${timed.position} ${isVoidEcho(timed, style)}`

function noteForm(timed: TimedSign, note: Note, head: Drawn, look: Look): Form {
  if (timed.after.length === 0 && note.editorial === undefined)
    return alike("note", head.content, [...head.content.map(markBox), head.body], head.body, look)
  const dots = dotsAfter(timed.after, timed.position, head, look)
  const { item, box } = editorial(
    note,
    { shape: "group", part: "note", sign: note.id, content: head.content },
    head.box,
  )
  const pieces = [...head.content.map(markBox), box === head.box ? head.body : box, ...dots.boxes]
  return single([item, ...dots.items], pieces, head.body, look)
}

function raisedForm(timed: TimedSign, note: Note, style: SignStyle, look: Look): Form {
  const { accidental, ...bare } = note
  const head = drawNote(bare, heightOf(timed.position, look), styleFor(style, look))
  const { left, right, top } = head.body
  const width = accidentalWidth(accidental!)
  const stemmed = head.box.top < top - 0.5
  const x = stemmed ? (left + right) / 2 - width - 0.2 : (left + right - width) / 2
  const mark = inked("accidental", accidentalPath(accidental!, x, top - 0.75))
  const content = [mark, ...head.content]
  if (timed.after.length === 0) return alike("note", content, content.map(markBox), head.body, look)
  const dots = dotsAfter(timed.after, timed.position, head, look)
  const item: Item = { shape: "group", part: "note", sign: note.id, content }
  return single([item, ...dots.items], [...content.map(markBox), ...dots.boxes], head.body, look)
}

function restForm(timed: TimedSign, rest: Rest, style: SignStyle, look: Look): Form {
  const bare = drawSign(rest, { clef: timed.clef }, style)
  const { item, box } = editorial(rest, bare.item, bare.box)
  const scale = look.compact ? look.headSpace : look.staffSpace
  const y = look.compact ? -((box.top + box.bottom) / 2) * scale : 0
  const content = item.shape === "group" ? item.content : [item]
  return withDots(
    timed,
    { shape: "group", part: "rest", x: 0, y, scale, content },
    scaledBox(box, scale, 0, y),
    style.lines - 1,
    look,
  )
}
