/** The cursor of the text and the selected sign follow each other. */
import { flatSigns, parseShorthand, placeInText, type Page, type SignId } from "@resolutio/core"
import { StateEffect, StateField, type Text } from "@codemirror/state"
import { Decoration, EditorView, type DecorationSet } from "@codemirror/view"
import type { Documents } from "../document/documents.js"
import { afterPaint } from "../parts/after-paint.js"
import { select, view as shown } from "../view/view.js"

interface Word {
  readonly from: number
  readonly to: number
}

/** Where each sign stands in a text; of a text that cannot be read whole nothing is known. */
class Places {
  readonly #voices: readonly (readonly number[])[]

  constructor(
    readonly text: Text,
    parsed: Page | undefined,
  ) {
    this.#voices = (parsed?.voices ?? []).map(voice => flatSigns(voice).map(({ sign }) => placeInText(sign) ?? -1))
  }

  /** The sign in whose word the place is, or after which it is. */
  signAt({ voices }: Page, place: number): SignId | undefined {
    const line = this.text.lineAt(place).from
    let best: { readonly at: number; readonly sign: SignId } | undefined
    this.#voices.forEach((offsets, i) => {
      const flat = voices[i] ? flatSigns(voices[i]) : []
      if (flat.length !== offsets.length) return
      offsets.forEach((at, k) => {
        if (at >= line && at <= place && (!best || at >= best.at)) best = { at, sign: flat[k]!.sign.id }
      })
    })
    return best?.sign
  }

  wordOf({ voices }: Page, sign: SignId): Word | undefined {
    for (const [i, offsets] of this.#voices.entries()) {
      const flat = voices[i] ? flatSigns(voices[i]) : []
      const at = flat.length === offsets.length ? flat.findIndex(one => one.sign.id === sign) : -1
      const from = at < 0 ? -1 : offsets[at]!
      if (from < 0) continue
      const line = this.text.lineAt(from)
      return { from, to: from + /^[^\s\]}]*/.exec(line.text.slice(from - line.from))![0].length }
    }
    return undefined
  }
}

const ask = StateEffect.define<Word | undefined>()
const frame = Decoration.mark({ class: "cm-asked" })
/** The word of the selected sign is framed, as the sign is everywhere else. */
export const askedWord = StateField.define<DecorationSet>({
  create: () => Decoration.none,
  update(now, { changes, effects }) {
    for (const effect of effects)
      if (effect.is(ask)) {
        const word = effect.value
        return word && word.to > word.from ? Decoration.set(frame.range(word.from, word.to)) : Decoration.none
      }
    return now.map(changes)
  },
  provide: field => EditorView.decorations.from(field),
})

export class Following {
  #places: Places | undefined
  #own = false
  #callOff = (): void => {}
  readonly #stop: () => void

  constructor(
    private readonly documents: Documents,
    private readonly editor: EditorView,
  ) {
    this.#stop = shown.subscribe(({ selected }, before) => {
      if (selected !== before.selected) this.#later(() => this.#toSign(selected))
    })
    this.#later(() => this.#toSign(shown.getState().selected))
  }

  end(): void {
    this.#callOff()
    this.#stop()
  }

  /** What the text was last read as; undefined where it cannot be read whole. */
  read(parsed: Page | undefined): void {
    this.#places = new Places(this.editor.state.doc, parsed)
  }

  /** The cursor was moved in the text, or something typed at it. */
  moved(): void {
    this.#later(() => {
      const { page } = this.documents.store.getState()
      const sign = this.#known.signAt(page, this.editor.state.selection.main.head)
      if (sign === undefined || sign === shown.getState().selected) return this.#frame(sign)
      this.#own = true
      select(sign)
      this.#own = false
      this.#frame(sign)
    })
  }

  /** Where the cursor goes when the keys come to the text: a browser would put it where it last stood. */
  #wanted: number | undefined
  pointed(): void {
    this.#wanted = undefined
  }
  focused(): void {
    const wanted = this.#wanted
    this.#wanted = undefined
    if (wanted !== undefined && wanted <= this.editor.state.doc.length)
      this.editor.dispatch({ selection: { anchor: wanted } })
  }

  get #known(): Places {
    const { doc } = this.editor.state
    if (this.#places?.text.eq(doc)) return this.#places
    const read = parseShorthand(doc.toString())
    const isWhole = read.ok && read.problems.every(({ severity }) => severity !== "error")
    return (this.#places = new Places(doc, isWhole ? read.value : undefined))
  }

  #toSign(sign: SignId | undefined): void {
    const word = this.#frame(sign)
    if (!word || this.editor.hasFocus) return
    this.#wanted = word.to
    this.editor.dispatch({
      selection: { anchor: word.to },
      effects: EditorView.scrollIntoView(word.from, { y: "nearest", yMargin: 24 }),
    })
  }

  #frame(sign: SignId | undefined): Word | undefined {
    const word = sign === undefined ? undefined : this.#known.wordOf(this.documents.store.getState().page, sign)
    this.editor.dispatch({ effects: ask.of(word) })
    return word
  }

  #later(run: () => void): void {
    if (this.#own) return
    this.#callOff()
    this.#callOff = afterPaint(run)
  }
}
