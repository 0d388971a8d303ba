/** The pen: what is written, where it goes, and the changes that its acts make. */
import { writing, type Level, type Page, type Sign, type SignId } from "@resolutio/core"
import type { App } from "../app.js"
import { flatOf, voiceOf } from "../document/index-signs.js"
import { chosenIn } from "../view/chosen.js"
import { select, view, type Writing } from "../view/view.js"
import { words } from "../words/index.js"

export type Parts = Pick<App, "documents" | "readings">
export const NEW: Writing = { level: "semibrevis", over: false }

/** A note of the level that is written, at a place of a staff that was pointed at. */
export function writeAt(parts: Parts, { height, ...spot }: writing.Spot & { readonly height: number }): void {
  const pen = new Pen(parts)
  const { level, over } = pen.writing
  pen.make(writing.writeNote(pen.page, spot, height, level, over), words.writing.written(words.writing.signs["note"]!))
}

/** What is written, and where. */
export class Pen {
  readonly #documents: App["documents"]
  readonly #readings: App["readings"]
  /** Whole signs that were copied. */
  copies: readonly Sign[] = []
  #gesture = 0

  constructor({ documents, readings }: Parts) {
    this.#documents = documents
    this.#readings = readings
  }

  get page(): Page {
    return this.#documents.store.getState().page
  }
  get writing(): Writing {
    return view.getState().writing ?? NEW
  }
  get chosen(): SignId[] {
    return chosenIn(this.page, view.getState())
  }
  /** Behind the selected sign; else at the end of the voice that is written in. */
  get spot(): writing.Spot | undefined {
    const { selected, writing: now } = view.getState()
    const { voices } = this.page
    const voice = (selected && voiceOf(this.page, selected)) ?? voices.find(one => one.id === now?.voice) ?? voices[0]
    if (!voice) return undefined
    const after =
      (selected && voiceOf(this.page, selected) === voice ? selected : undefined) ?? flatOf(voice).at(-1)?.sign.id
    return { voice: voice.id, ...(after === undefined ? {} : { after }) }
  }

  /** Makes the change and goes where it leads. Changes of one held key are one step. */
  make(gesture: writing.Gesture | undefined, said: string, held?: string): void {
    if (!gesture || !this.#documents.act(gesture.change, said, held && `${held} ${this.#gesture}`)) return
    const { anchor } = view.getState()
    const stays =
      anchor !== undefined && this.page.voices.some(voice => flatOf(voice).some(({ sign }) => sign.id === anchor))
    select(gesture.select)
    if (stays && held !== undefined) view.setState({ anchor })
    if (held === undefined) this.#gesture++
  }

  /** Where the sign stands, in words. */
  placeOf(sign: SignId | undefined): string {
    return (sign === undefined ? undefined : this.#readings.ownTold(sign)?.place) ?? words.writing.thePage
  }
  levelRead(sign: SignId): Level | undefined {
    const voice = voiceOf(this.page, sign)
    const level = voice && this.#readings.ownReading(voice).signs.find(one => one.id === sign)?.level
    return level ?? undefined
  }
  set(more: Partial<Writing>): void {
    view.setState({ writing: { ...this.writing, ...more } })
  }
}
