/** A first walk: what one does at the workbench, done one after the other on a piece of our own; each thing is noticed when it is done. */
import { createStore } from "zustand/vanilla"
import type { Documents, DocumentState } from "../document/documents.js"
import { signOf, voiceOf } from "../document/index-signs.js"
import type { Readings } from "../reading/readings.js"
import { sound, type SoundState } from "../sound/player.js"
import { view, type ViewState } from "../view/view.js"
import { words } from "../words/index.js"

const PIECE = "first walk"

/** Two voices of our own making: a breve that gives way, one that stays whole, a semibreve that is doubled. */
const text = (): string => `title: ${words.walk.title}
voice cantus black practice=ars-nova
clef:C1 O B g4 S a B b b S a g B g f L e
voice tenor black practice=ars-nova
clef:C3 O B c4 e e c e d L c
`

interface Now extends Pick<DocumentState, "page" | "record"> {
  readonly view: ViewState
  readonly sound: SoundState
}
/** Done, as things are now and were when the step began. */
type Done = (now: Now, then: Now) => boolean

const voiceIn = ({ page, view: { selected } }: Now) =>
  selected === undefined ? undefined : voiceOf(page, selected)?.id
const signsIn = ({ page }: Now): number => page.voices.reduce((sum, voice) => sum + voice.signs.length, 0)

/** In the order of `words.walk.steps`. */
const STEPS: Readonly<Record<keyof typeof words.walk.steps, Done>> = {
  choose: ({ page, view: { selected } }) => selected !== undefined && signOf(page, selected)?.sign.kind === "note",
  onward: (now, then) => now.view.selected !== undefined && now.view.selected !== then.view.selected,
  across: (now, then) => voiceIn(now) !== undefined && voiceIn(now) !== voiceIn(then),
  suppose: ({ view: { asking } }) => asking === "supposing",
  supposed: ({ view: { supposed } }) => supposed !== undefined,
  back: ({ view: { supposed, asking } }) => supposed === undefined && asking === undefined,
  write: ({ view: { writing } }) => writing !== undefined,
  note: (now, then) => signsIn(now) > signsIn(then),
  move: (now, then) => now.page !== then.page && signsIn(now) === signsIn(then),
  undo: (now, then) => (now.record?.at ?? 0) < (then.record?.at ?? 0),
  end: ({ view: { writing } }) => writing === undefined,
  listen: now => now.sound.phase !== "silent",
  hush: now => now.sound.phase === "silent" || now.sound.phase === "paused",
  find: now => now.view.sheet === "find",
  close: now => now.view.sheet === undefined,
}
export type StepName = keyof typeof STEPS
export const WALK = Object.keys(words.walk.steps) as StepName[]

/** Number of the step; `WALK.length`: all is done. Undefined: nobody walks. */
export const walking = createStore<{ readonly at?: number | undefined }>(() => ({}))

export class Walk {
  #then: Now | undefined
  #stop: (() => void)[] = []

  constructor(
    private readonly documents: Documents,
    private readonly readings: Readings,
  ) {}

  async begin(): Promise<void> {
    this.end()
    const read = await this.readings.readText("walk.figurae", text())
    if (!read.ok) return
    await this.documents.create(read.page, { id: PIECE, demo: true })
    view.setState({
      selected: undefined,
      anchor: undefined,
      sheet: undefined,
      asking: undefined,
      writing: undefined,
      chapter: "reason",
      open: ["page", "time"],
    })
    this.#go(0)
    const look = (): void => this.#look()
    this.#stop = [view.subscribe(look), this.documents.store.subscribe(look), sound.subscribe(look)]
  }

  end(): void {
    for (const stop of this.#stop) stop()
    this.#stop = []
    walking.setState({ at: undefined })
  }

  /** Whoever knows it already passes over it. */
  pass(): void {
    const { at } = walking.getState()
    if (at !== undefined && at < WALK.length) this.#go(at + 1)
  }

  #go(at: number): void {
    this.#then = this.#now
    walking.setState({ at })
  }

  get #now(): Now {
    const { page, record } = this.documents.store.getState()
    return { page, record, view: view.getState(), sound: sound.getState() } as Now
  }

  #look(): void {
    const { at } = walking.getState()
    const now = this.#now
    if (at === undefined || !this.#then) return
    // another piece was opened: the walk is over
    if (now.record?.id !== PIECE) return this.end()
    const name = WALK[at]
    if (name !== undefined && STEPS[name](now, this.#then)) this.#go(at + 1)
  }
}
