/**
 * What is known of the page that is shown: of each voice by itself at once, of all together as soon as the desk has read them. The
 * page that is shown is the piece's own, or what it would be with what is supposed.
 */
import {
  applyChange,
  type FictaGrade,
  type Page,
  type PageChange,
  type Reading,
  type SignId,
  type Voice,
  type VoiceId,
} from "@resolutio/core"
import { createStore } from "zustand/vanilla"
import type { Documents } from "../document/documents.js"
import { view } from "../view/view.js"
import { DeskClient, type DeskLine } from "./client.js"
import type { FromDesk, LectureWanted, ReadSummary, TextRead, TimeWanted } from "./messages.js"
import { OwnReadings } from "./own.js"
import type { Told } from "./tell.js"

/** How the time view was laid. */
export type TimeState = Omit<Extract<FromDesk, { tell: "time" }>, "tell">

export interface ReadingState {
  /** The page that is shown. */
  readonly page: Page
  /** Goes up whenever another page is shown. */
  readonly revision: number
  readonly summary?: ReadSummary
  /** Revision that the summary is of. */
  readonly read: number
  /** Revision of which all that is to be said is known: the one before, while it is looked for which voice does not fit. */
  readonly settled: number
  readonly time?: TimeState
  /** Systems as SVG, by number. */
  readonly systems: ReadonlyMap<number, string>
  /** Of the search for slips, 0 to 1. */
  readonly progress?: number
  /** The desk could not do its work. */
  readonly failed?: string
}

export class Readings {
  readonly store = createStore<ReadingState>(() => ({
    page: { title: "", voices: [], shapes: [], surfaces: [], zones: [], alternatives: [] },
    revision: 0,
    read: -1,
    settled: -1,
    systems: new Map(),
  }))
  readonly #own = new OwnReadings()
  readonly #desk: DeskClient

  constructor(documents: Documents, line: DeskLine) {
    this.#desk = new DeskClient(line, news => this.#take(news))
    documents.store.subscribe(({ page, led }, before) => {
      if (page === before.page) return
      if (view.getState().supposed) view.setState({ supposed: undefined })
      this.#show(page, led)
    })
    view.subscribe(({ supposed }, before) => {
      if (supposed === before.supposed) return
      const { page } = documents.store.getState()
      this.#suppose(page, supposed?.change)
    })
  }

  /** What is said of a sign by its own voice, at once. */
  ownTold(sign: SignId): Told | undefined {
    return this.#own.tell(this.store.getState().page, sign)
  }

  ownReading(voice: Voice): Reading {
    return this.#own.of(this.store.getState().page, voice)
  }

  /** What is said of it by all voices together, when they have been read. */
  told(sign: SignId): Promise<Told | undefined> {
    return this.#desk.ask({ about: "sign", sign })
  }

  asked(sign: SignId) {
    return this.#desk.ask({ about: "asked", sign })
  }

  effect() {
    return this.#desk.ask({ about: "effect" })
  }

  measure() {
    return this.#desk.ask({ about: "measure" })
  }
  repeats(voice?: VoiceId) {
    return this.#desk.ask({ about: "repeats", ...(voice === undefined ? {} : { voice }) })
  }
  mending() {
    this.store.setState({ progress: 0 })
    return this.#desk.ask({ about: "mending" })
  }
  stopMending(): void {
    this.#desk.send({ do: "leave" })
  }

  lecture(wanted: LectureWanted) {
    return this.#desk.ask({ about: "lecture", ...wanted })
  }

  accidentals() {
    return this.#desk.ask({ about: "accidentals" })
  }
  modern(accidentals?: FictaGrade) {
    return this.#desk.ask({ about: "modern", ...(accidentals === undefined ? {} : { accidentals }) })
  }

  readText(file: string, text: string): Promise<TextRead> {
    return this.#desk.ask({ about: "text", file, text })
  }

  wantTime(wanted: TimeWanted | undefined): void {
    this.#desk.send({ do: "time", wanted })
  }
  seeTime(see: TimeWanted["see"]): void {
    this.#desk.send({ do: "see", see })
  }

  #show(page: Page, led: PageChange | undefined): void {
    const revision = this.store.getState().revision + 1
    if (led === undefined) this.#own.forget()
    this.#desk.send(led ? { do: "change", revision, change: led } : { do: "open", revision, page })
    this.store.setState({ page, revision, failed: undefined })
  }

  #suppose(real: Page, change: PageChange | undefined): void {
    const revision = this.store.getState().revision + 1
    const supposed = change && applyChange(real, change)
    if (supposed && !supposed.ok) return
    this.#desk.send({ do: "suppose", revision, ...(change ? { change } : {}) })
    this.store.setState({ page: supposed ? supposed.value.page : real, revision })
  }

  #take(news: Exclude<FromDesk, { tell: "answer" }>): void {
    switch (news.tell) {
      case "read":
        this.#own.assume(news.summary.assumed)
        return this.store.setState(({ settled }) => ({
          summary: news.summary,
          read: news.revision,
          settled: news.isSettled ? news.revision : settled,
          failed: undefined,
        }))
      case "time": {
        const { tell: _, ...time } = news
        return this.store.setState({ time })
      }
      case "systems": {
        const systems = new Map(news.all ? [] : this.store.getState().systems)
        for (const [number, svg] of news.svg) systems.set(number, svg)
        return this.store.setState({ systems })
      }
      case "progress":
        return this.store.setState({ progress: news.share })
      case "failed":
        return this.store.setState({ failed: news.what })
    }
  }
}
