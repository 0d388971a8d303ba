/** A keyboard that is plugged in gives pitches: each key is a note of the level that is written. Nothing is asked of the browser before one wants it. */
import { writing } from "@resolutio/core"
import { createStore } from "zustand/vanilla"
import { Pen } from "../acts/pen.js"
import type { App } from "../app.js"
import { view } from "../view/view.js"
import { words } from "../words/index.js"

export interface KeyboardState {
  readonly phase: "off" | "asking" | "on"
  /** Names of what is plugged in. */
  readonly names: readonly string[]
}
export const keyboard = createStore<KeyboardState>(() => ({ phase: "off", names: [] }))

/** MIDI 1.0, channel voice messages: a note that begins has the status 9n hex and a velocity over 0. */
const NOTE_ON = 0x90

export const hasKeyboards = (): boolean => typeof navigator.requestMIDIAccess === "function"

export class Keyboard {
  #access: MIDIAccess | undefined
  readonly #pen: Pen

  constructor(parts: Pick<App, "documents" | "readings">) {
    this.#pen = new Pen(parts)
  }

  async turn(): Promise<void> {
    const { phase } = keyboard.getState()
    if (phase === "asking") return
    if (phase === "on") return this.#off()
    keyboard.setState({ phase: "asking" })
    try {
      this.#access = await navigator.requestMIDIAccess()
      this.#access.addEventListener("statechange", this.#plugged)
      keyboard.setState({ phase: "on" })
      this.#plugged()
    } catch {
      keyboard.setState({ phase: "off", names: [] })
      view.setState({ said: words.keyboard.refused })
    }
  }

  #off(): void {
    this.#access?.removeEventListener("statechange", this.#plugged)
    for (const input of this.#inputs) input.removeEventListener("midimessage", this.#take)
    this.#access = undefined
    keyboard.setState({ phase: "off", names: [] })
  }

  get #inputs(): MIDIInput[] {
    const all: MIDIInput[] = []
    this.#access?.inputs.forEach(input => all.push(input))
    return all
  }

  /** Something was plugged in or out: listening twice to the same is listening once. */
  readonly #plugged = (): void => {
    for (const input of this.#inputs) input.addEventListener("midimessage", this.#take)
    const names = this.#inputs.filter(({ state }) => state === "connected").map(({ name }) => name ?? "")
    keyboard.setState({ names })
    view.setState({ said: names.length > 0 ? words.keyboard.on(names) : words.keyboard.none })
  }

  readonly #take = ({ data }: MIDIMessageEvent): void => {
    const [status = 0, key = 0, velocity = 0] = data ?? []
    if ((status & 0xf0) !== NOTE_ON || velocity === 0 || view.getState().writing === undefined) return
    const { spot, writing: now } = this.#pen
    if (!spot) return
    const note = writing.writeKey(this.#pen.page, spot, key, now.level, now.over)
    this.#pen.make(note, words.writing.written(words.writing.signs["note"]!))
  }
}
