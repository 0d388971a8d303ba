/**
 * Listening: the sound is made once for each page and way of playing, then played by the browser. It starts quiet. What sounds is
 * told as it comes, for whoever shows it.
 */
import address from "worker:./sound/player-worker.ts"
import bank from "@resolutio/core/sound/voices.sf3?url"
import type { Page, SignId } from "@resolutio/core"
import { createStore } from "zustand/vanilla"
import { trustedAddress } from "../parts/trusted.js"
import { words } from "../words/index.js"
import type { FromPlayer, Playing, Sounding } from "./messages.js"

export interface SoundState extends Playing {
  readonly phase: "silent" | "making" | "playing" | "paused"
  /** How far the making has come, 0 to 1. */
  readonly share: number
  readonly loudness: number
  /** Plays again from the beginning, or what is looped, until it is stopped. */
  readonly loop: boolean
  /** Signs that sound now. */
  readonly sounding: readonly SignId[]
  /** In the score's unit. */
  readonly moment?: number
  readonly failed?: string
  readonly sentences: readonly string[]
}

/** So loud it starts: a quarter of the full amplitude. */
const QUIET = 0.25

export const sound = createStore<SoundState>(() => ({
  phase: "silent",
  share: 0,
  loudness: QUIET,
  loop: false,
  speed: 1,
  countIn: false,
  mute: [],
  sounding: [],
  sentences: [],
}))

export class Player {
  #worker: Worker | undefined
  #audio: HTMLAudioElement | undefined
  #soundings: readonly Sounding[] = []
  #made: { readonly page: Page; readonly how: string } | undefined

  /** Plays the page, from where the sign sounds; pauses what plays, goes on with what is paused. */
  turn(page: Page, from: SignId | undefined): void {
    const { phase } = sound.getState()
    if (phase === "making") return this.stop()
    if (phase === "playing") return this.pause()
    const how = this.#how
    if (this.#audio && this.#made?.page === page && this.#made.how === how) {
      if (phase === "silent") this.#audio.currentTime = this.#startOf(from)
      return this.#play()
    }
    this.#make(page, how, from)
  }

  /** Another way of playing: what plays is made anew and goes on from where it was. */
  set(playing: Partial<Playing>, page: Page): void {
    const { phase, sounding } = sound.getState()
    sound.setState(playing)
    if (phase !== "silent") this.#make(page, this.#how, sounding[0])
  }

  get #how(): string {
    const { speed, countIn, mute } = sound.getState()
    return JSON.stringify([speed, countIn, mute])
  }

  pause(): void {
    this.#audio?.pause()
    sound.setState({ phase: "paused" })
  }

  stop(): void {
    this.#worker?.terminate()
    this.#worker = undefined
    this.#audio?.pause()
    sound.setState({ phase: "silent", sounding: [], moment: undefined })
  }

  setLoudness(loudness: number): void {
    sound.setState({ loudness })
    if (this.#audio) this.#audio.volume = loudness
  }

  setLoop(loop: boolean): void {
    sound.setState({ loop })
    if (this.#audio) this.#audio.loop = loop
  }

  #make(page: Page, how: string, from: SignId | undefined): void {
    this.stop()
    const { speed, countIn, mute } = sound.getState()
    sound.setState({ phase: "making", share: 0, failed: undefined })
    const worker = new Worker(trustedAddress(address) as string, { type: "module", name: "sound" })
    this.#worker = worker
    worker.addEventListener("message", ({ data }: MessageEvent<FromPlayer>) => {
      if (data.tell === "progress") return sound.setState({ share: data.share })
      worker.terminate()
      if (data.tell === "failed") return sound.setState({ phase: "silent", failed: words.listening.failed(data.what) })
      this.#made = { page, how }
      this.#take(data.wav, data.soundings)
      sound.setState({ sentences: data.sentences })
      this.#audio!.currentTime = this.#startOf(from)
      this.#play()
    })
    worker.addEventListener("error", ({ message }) =>
      sound.setState({ phase: "silent", failed: words.listening.failed(message) }),
    )
    worker.postMessage({ page, playing: { speed, countIn, mute }, bank: new URL(bank, location.href).href })
  }

  #take(wav: ArrayBuffer, soundings: readonly Sounding[]): void {
    if (this.#audio) URL.revokeObjectURL(this.#audio.src)
    const audio = new Audio(URL.createObjectURL(new Blob([wav], { type: "audio/wav" })))
    audio.volume = sound.getState().loudness
    audio.loop = sound.getState().loop
    audio.addEventListener("ended", () => this.stop())
    this.#audio = audio
    this.#soundings = soundings
  }

  #startOf(sign: SignId | undefined): number {
    return this.#soundings.find(one => one.sign === sign)?.start ?? 0
  }

  #play(): void {
    const audio = this.#audio!
    sound.setState({ phase: "playing" })
    audio
      .play()
      .catch((error: unknown) => sound.setState({ phase: "silent", failed: words.listening.failed(String(error)) }))
    const follow = (): void => {
      if (sound.getState().phase !== "playing" || this.#audio !== audio) return
      this.#tell(audio.currentTime)
      requestAnimationFrame(follow)
    }
    requestAnimationFrame(follow)
  }

  #tell(now: number): void {
    const sounding = this.#soundings.filter(({ start, end }) => start <= now && now < end)
    const last = sounding.at(-1)
    const moment = last && last.onset + ((now - last.start) / (last.end - last.start)) * (last.until - last.onset)
    const { sounding: before } = sound.getState()
    const same = before.length === sounding.length && before.every((sign, i) => sign === sounding[i]!.sign)
    sound.setState({
      ...(same ? {} : { sounding: sounding.map(({ sign }) => sign) }),
      ...(moment === undefined ? {} : { moment }),
    })
  }
}
