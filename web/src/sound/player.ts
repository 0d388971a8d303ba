/**
 * Listening: the sound is made once for each page and way of playing, then played by the browser. It starts quiet. What sounds is
 * told as it comes, for whoever shows it.
 */
import type { Page, SignId, VoiceId } from "@resolutio/core"
import { createStore } from "zustand/vanilla"
import { words } from "../words/index.js"
import { USUAL_HEARING, type Hearing, type VoiceHearing } from "./hearing.js"
import { keepHearing, keptHearing } from "./keep-hearing.js"
import { SoundMaker } from "./maker.js"
import type { SoundMade, Sounding } from "./messages.js"
import { momentOf } from "./moment.js"
import { PassageLoop } from "./passage-loop.js"

/** What is played again and again: these signs, from where the first begins to where the last ends. */
export interface Passage {
  readonly signs: readonly SignId[]
  /** With the measures in which they stand. */
  readonly measures: boolean
}

export interface SoundState {
  readonly hearing: Hearing
  readonly phase: "silent" | "making" | "playing" | "paused"
  /** How far the making has come, 0 to 1. */
  readonly share: number
  readonly loudness: number
  /** Plays again from the beginning, or the passage, until it is stopped. */
  readonly loop: boolean
  readonly passage?: Passage
  /** The sign that is heard in two readings, and which of them is heard. */
  readonly rivals?: { readonly sign: SignId; readonly now: "A" | "B"; readonly sentence: string }
  /** The controls are shown though nothing is heard. */
  readonly shown: boolean
  /** Signs that sound now. */
  readonly sounding: readonly SignId[]
  /** In the score's unit. */
  readonly moment?: number
  readonly failed?: string
  readonly sentences: readonly string[]
  /** Moments at which the sign changes, as far as the piece was heard. */
  readonly changes: readonly string[]
}

/** So loud it starts: a quarter of the full amplitude. */
const QUIET = 0.25

export const sound = createStore<SoundState>(() => ({
  hearing: USUAL_HEARING,
  phase: "silent",
  share: 0,
  loudness: QUIET,
  loop: false,
  shown: false,
  sounding: [],
  sentences: [],
  changes: [],
}))

export class Player {
  readonly #maker = new SoundMaker()
  #audio: HTMLAudioElement | undefined
  /** While a passage goes round it sounds in place of the whole. */
  #loop: PassageLoop | undefined
  #made: (SoundMade & { readonly page: Page; readonly how: string }) | undefined
  #piece: string | undefined

  /** Another piece is open: it is heard as it was when it was heard last. */
  open(piece: string | undefined): void {
    if (piece === this.#piece) return
    this.#piece = piece
    this.stop()
    this.#made = undefined
    const hearing = piece === undefined ? USUAL_HEARING : keptHearing(piece)
    sound.setState({ hearing, passage: undefined, loop: false, failed: undefined, sentences: [], changes: [] })
  }

  /** Plays the page, from where the sign sounds; pauses what plays, goes on with what is paused. */
  turn(page: Page, from: SignId | undefined): void {
    const { phase, passage } = sound.getState()
    if (phase === "making") return this.stop()
    if (phase === "playing") return this.pause()
    if (phase === "silent") sound.setState({ rivals: undefined })
    if (!this.#isMade(page)) return this.#make(page, from)
    if (phase === "silent" && !passage) this.#audio!.currentTime = this.#startOf(from)
    this.#play()
  }

  /** Another way of playing: what plays is made anew and goes on from where it was. */
  set(hearing: Partial<Hearing>, page: Page): void {
    const { phase, sounding } = sound.getState()
    sound.setState({ hearing: { ...sound.getState().hearing, ...hearing } })
    if (this.#piece !== undefined) keepHearing(this.#piece, sound.getState().hearing)
    if (phase !== "silent") this.#make(page, sounding[0])
  }

  setVoice(voice: VoiceId, more: VoiceHearing, page: Page): void {
    const { voices } = sound.getState().hearing
    this.set({ voices: { ...voices, [voice]: { ...voices[voice], ...more } } }, page)
  }

  /** The passage round the sign in two readings, one after the other. */
  compare(page: Page, sign: SignId): void {
    sound.setState({ rivals: { sign, now: "A", sentence: "" }, passage: undefined })
    this.#make(page, undefined)
  }

  /** Plays these signs again and again; without any, what is heard is let run on. */
  setPassage(passage: Passage | undefined, page: Page): void {
    const { rivals } = sound.getState()
    sound.setState({ rivals: undefined })
    if (!passage) return this.setLoop(false)
    sound.setState({ passage, loop: true })
    if (this.#audio) this.#audio.loop = false
    this.#silence()
    sound.setState({ phase: "silent" })
    if (rivals) this.#made = undefined
    this.turn(page, passage.signs[0])
  }

  get #how(): string {
    const { hearing, rivals } = sound.getState()
    return JSON.stringify([hearing, rivals?.sign])
  }

  #isMade(page: Page): boolean {
    return this.#audio !== undefined && this.#made?.page === page && this.#made.how === this.#how
  }

  pause(): void {
    this.#audio?.pause()
    this.#loop?.pause()
    sound.setState({ phase: "paused" })
  }

  #silence(): void {
    this.#audio?.pause()
    this.#loop?.end()
    this.#loop = undefined
  }

  stop(): void {
    this.#maker.stop()
    this.#silence()
    sound.setState({ phase: "silent", sounding: [], moment: undefined })
  }

  setLoudness(loudness: number): void {
    sound.setState({ loudness })
    if (this.#audio) this.#audio.volume = loudness
    if (this.#loop) this.#loop.loudness = loudness
  }

  louder(by: number): void {
    this.setLoudness(Math.min(1, Math.max(0, sound.getState().loudness + by)))
  }

  setLoop(loop: boolean): void {
    const at = this.#loop?.now
    sound.setState({ loop, ...(loop ? {} : { passage: undefined }) })
    if (!this.#audio) return
    this.#audio.loop = loop && sound.getState().passage === undefined
    if (at === undefined || sound.getState().passage) return
    // what went round runs on from where it was
    const wasPlaying = sound.getState().phase === "playing"
    this.#silence()
    this.#audio.currentTime = at
    if (wasPlaying) this.#play()
  }

  #make(page: Page, from: SignId | undefined): void {
    this.#silence()
    const { hearing, rivals } = sound.getState()
    const how = this.#how
    sound.setState({ phase: "making", share: 0, failed: undefined, sounding: [], moment: undefined })
    this.#maker.make({ page, hearing, ...(rivals ? { rivals: rivals.sign } : {}) }, message => {
      if (message.tell === "progress") return sound.setState({ share: message.share })
      if (message.tell === "failed") return this.#failed(message.what)
      this.#made = { ...message, page, how }
      this.#take(message.wav)
      const told = message.rivals && rivals && { ...rivals, sentence: message.rivals.sentence }
      const { sentences, changes } = message
      sound.setState({ sentences, ...(message.rivals ? {} : { changes }), ...(told ? { rivals: told } : {}) })
      if (!sound.getState().passage) this.#audio!.currentTime = this.#startOf(from)
      this.#play()
    })
  }

  /** Whoever pauses before it has begun is not told that. */
  #refused(error: unknown): void {
    if (!(error instanceof DOMException && error.name === "AbortError")) this.#failed(String(error))
  }

  #failed(what: string): void {
    sound.setState({ phase: "silent", rivals: undefined, failed: words.listening.failed(what) })
  }

  #take(wav: ArrayBuffer): void {
    if (this.#audio) URL.revokeObjectURL(this.#audio.src)
    const audio = new Audio(URL.createObjectURL(new Blob([wav], { type: "audio/wav" })))
    const { loudness, loop, passage } = sound.getState()
    audio.volume = loudness
    audio.loop = loop && passage === undefined
    audio.addEventListener("ended", () => this.stop())
    this.#audio = audio
  }

  #startOf(sign: SignId | undefined): number {
    return sign === undefined ? 0 : (this.#soundings.find(one => one.sign === sign)?.start ?? 0)
  }

  get #soundings(): readonly Sounding[] {
    return this.#made?.soundings ?? []
  }

  /** Where the passage begins and ends, in seconds; the whole where none of its signs is heard. */
  #bounds(): readonly [number, number] {
    const { passage } = sound.getState()
    const signs = new Set(passage?.signs)
    const own = this.#soundings.filter(one => signs.has(one.sign))
    if (!passage || own.length === 0) return [0, Infinity]
    const bounds = own.map(({ start, end, bar }) => (passage.measures ? bar : ([start, end] as const)))
    return [Math.max(0, Math.min(...bounds.map(one => one[0]))), Math.max(...bounds.map(one => one[1]))]
  }

  #play(): void {
    const audio = this.#audio!
    sound.setState({ phase: "playing" })
    const [from, to] = this.#bounds()
    if (this.#loop) this.#loop.goOn()
    else if (to < Infinity) this.#loop = new PassageLoop(this.#made!.wav, from, to, sound.getState().loudness)
    else audio.play().catch((error: unknown) => this.#refused(error))
    const loop = this.#loop
    const follow = (): void => {
      if (sound.getState().phase !== "playing" || this.#audio !== audio || this.#loop !== loop) return
      this.#tell(loop?.now ?? audio.currentTime)
      requestAnimationFrame(follow)
    }
    requestAnimationFrame(follow)
  }

  #tell(now: number): void {
    const sounding = this.#soundings.filter(({ start, end, heard }) => heard && start <= now && now < end)
    const moment = momentOf(sounding, now)
    const { sounding: before, rivals } = sound.getState()
    const same = before.length === sounding.length && before.every((sign, i) => sign === sounding[i]!.sign)
    const b = this.#made?.rivals?.b ?? Infinity
    const heard = now >= b ? "B" : "A"
    sound.setState({
      ...(same ? {} : { sounding: sounding.map(({ sign }) => sign) }),
      ...(moment === undefined ? {} : { moment }),
      ...(rivals && rivals.now !== heard ? { rivals: { ...rivals, now: heard } } : {}),
    })
  }
}
