/**
 * The reading desk: reads all voices together and draws them in time, away from the window's own thread. Changes are made as they
 * come; reading waits until no more of them are waiting, so that one who types quickly is read once.
 */
import {
  alignVoices,
  applyChange,
  readingTogether,
  Recall,
  type FictaGrade,
  type Page,
  type PageChange,
  type Score,
  type SignId,
  type Together,
} from "@resolutio/core"
import { askedMarks, TimeDrawing } from "./desk-time.js"
import { effectOf } from "./effect.js"
import type { Answers, FromDesk, Question, TimeWanted, ToDesk } from "./messages.js"
import { readText } from "./read-text.js"
import { summaryOf } from "./summary.js"
import { tell } from "./tell.js"

/** A page with its reading, as far as it has been worked out. */
interface Read {
  readonly page: Page
  together?: Together
  score?: Score
  /** All that is to be said of it has been found out. */
  isSettled?: boolean
}

interface UnderWay {
  readonly of: Read
  readonly steps: Generator<Together, Together, void>
}

/** Questions that what all voices say at once answers already. */
const ANSWERED_SOON: ReadonlySet<Question["about"]> = new Set(["sign", "asked"])

export class Desk {
  #real: Read = { page: { title: "", voices: [], shapes: [], surfaces: [], zones: [], alternatives: [] } }
  #supposed: Read | undefined
  #revision = -1
  /** Number of the search for slips that is under way. */
  #search = 0
  #wanted: TimeWanted | undefined
  readonly #time = new TimeDrawing()
  readonly #recall = new Recall()
  #due = false
  /** The reading that is under way. */
  #reading: UnderWay | undefined
  /** Questions that wait for the reading. */
  #waiting: { ask: number; question: Question }[] = []

  /** `post` tells the window something; `soon` runs something once no more messages are waiting. */
  constructor(
    private readonly post: (message: FromDesk) => void,
    private readonly soon: (run: () => void) => void,
  ) {}

  take(message: ToDesk): void {
    switch (message.do) {
      case "open":
        this.#real = { page: message.page }
        this.#supposed = undefined
        return this.#changed(message.revision)
      case "change":
        this.#real = this.#changedBy(message.change)
        this.#supposed = undefined
        return this.#changed(message.revision)
      case "suppose":
        this.#supposed = message.change && this.#changedBy(message.change)
        return this.#changed(message.revision)
      case "time":
        this.#wanted = message.wanted
        return this.#later()
      case "see":
        if (this.#wanted) this.#wanted = { ...this.#wanted, see: message.see }
        return this.#tellSystems()
      case "leave":
        this.#search++
        return
      case "answer":
        return this.#answer(message.ask, message.question)
    }
  }

  #changed(revision: number): void {
    this.#revision = revision
    this.#later()
  }

  #later(): void {
    if (this.#due) return
    this.#due = true
    this.soon(() => {
      this.#due = false
      this.#settle()
    })
  }

  get #now(): Read {
    return this.#supposed ?? this.#real
  }

  #changedBy(change: PageChange): Read {
    const { page } = changed(this.#real, change)
    return page === this.#real.page ? this.#real : { page: this.#recall.page(page) }
  }

  /** What all voices say at once is told at once; then, between whatever else is asked, what takes longer. */
  #settle(): void {
    const now = this.#now
    try {
      if (now.isSettled) this.#tellRead(now)
      else {
        if (this.#reading?.of !== now) this.#reading = { of: now, steps: this.#readingOf(now) }
        this.#step(now, this.#reading.steps)
      }
      this.#drawTime()
    } catch (error) {
      this.#reading = undefined
      this.post({ tell: "failed", what: messageOf(error) })
    }
    this.#answerWaiting()
    if (this.#reading) this.#goOn(this.#reading)
  }

  /** Takes the next step, unless there is something newer to be read. */
  #goOn(reading: UnderWay): void {
    this.soon(() => {
      if (!this.#due && this.#reading === reading) this.#settle()
    })
  }

  #readingOf({ page }: Read): Generator<Together, Together, void> {
    const last = this.#supposed ? this.#real.together : this.#before
    return readingTogether(page, {}, last && this.#recall.before(page, last))
  }

  #step(now: Read, steps: Generator<Together, Together, void>): void {
    const { value, done } = steps.next()
    const isNews = now.together === undefined || !saysAlike(now.together, value)
    if (isNews || done) now.together = value
    if (done) {
      now.isSettled = true
      this.#reading = undefined
      this.#recall.keep(value)
      if (now === this.#real) this.#before = value
    }
    if (isNews) now.score = alignVoices(now.page, value.readings)
    if (isNews || done) this.#tellRead(now)
  }

  #tellRead({ page, together, score, isSettled = false }: Read): void {
    const summary = summaryOf(page, together!, score!)
    this.post({ tell: "read", revision: this.#revision, summary, isSettled })
  }

  #answerWaiting(): void {
    const waiting = this.#waiting
    this.#waiting = []
    for (const { ask, question } of waiting) this.#answer(ask, question)
  }
  /** What was last read of the page itself: the next reading begins from it. */
  #before: Together | undefined

  #drawTime(): void {
    const { page, together, score } = this.#now
    if (!this.#wanted || !together || !score) return
    const laid = this.#time.lay({ page, readings: together.readings, score }, this.#wanted)
    if (laid) this.post({ tell: "time", revision: this.#revision, ...laid })
    this.#tellSystems()
  }

  #tellSystems(): void {
    if (!this.#wanted) return
    const { svg, all } = this.#time.systems(this.#wanted.see)
    if (svg.length > 0 || all) this.post({ tell: "systems", all, svg })
  }

  #answer(ask: number, question: Question): void {
    if (!this.#canAnswer(question)) {
      this.#waiting.push({ ask, question })
      return
    }
    Promise.resolve()
      .then(() => this.#answerTo(question))
      .then(
        answer => this.post({ tell: "answer", ask, answer }),
        (error: unknown) => this.post({ tell: "failed", ask, what: messageOf(error) }),
      )
  }

  #canAnswer({ about }: Question): boolean {
    const { together, isSettled } = this.#now
    return about === "text" || (!this.#due && (isSettled || (together !== undefined && ANSWERED_SOON.has(about))))
  }

  #answerTo(question: Question): Answers[Question["about"]] | Promise<Answers[Question["about"]]> {
    switch (question.about) {
      case "text":
        return readText(question.file, question.text)
      case "sign":
        return this.#told(question.sign)
      case "asked":
        return askedMarks(this.#time.laid, question.sign)
      case "effect":
        return this.#effect()
      case "measure":
        return import("./desk-measure.js").then(({ measureOf }) => measureOf(this.#now.page))
      case "repeats":
        return import("./desk-repeats.js").then(({ repeatsOf }) =>
          repeatsOf(this.#now.page, this.#now.together!.readings, question.voice),
        )
      case "mending":
        return this.#mending()
      case "lecture": {
        const { page, together } = this.#now
        return import("./desk-lecture.js").then(({ lectureFor }) => lectureFor(page, together!.readings, question))
      }
      case "accidentals": {
        const { page, score } = this.#now
        return import("./desk-accidentals.js").then(({ accidentalsOf }) => accidentalsOf(page, score!))
      }
      case "modern":
        return this.#modern(question.accidentals)
    }
  }

  async #modern(grade: FictaGrade | undefined) {
    const { page, score } = this.#now
    const { modernOf } = await import("./modern.js")
    if (grade === undefined) return modernOf(score!)
    const { sungUpTo } = await import("./desk-accidentals.js")
    return modernOf(sungUpTo(page, score!, grade))
  }

  /** Left as soon as the page is another, or another search begins. */
  async #mending() {
    const search = ++this.#search
    const { mendingOf } = await import("./desk-mending.js")
    const revision = this.#revision
    const progress = (share: number): boolean => {
      this.post({ tell: "progress", share })
      return this.#revision === revision && this.#search === search && !this.#due
    }
    return mendingOf(this.#now.page, progress, () => new Promise(done => this.soon(done)))
  }

  #effect() {
    const { page, together } = this.#supposed ?? {}
    const real = this.#before
    return page && together && real ? effectOf(page, real.readings, together.readings) : undefined
  }

  #told(sign: SignId) {
    const { page, together } = this.#now
    return tell(page, together!.readings, sign)
  }
}

/** The signs are read alike; what is told of the voices besides may differ. */
const saysAlike = (a: Together, b: Together): boolean =>
  a.readings.every((one, i) => one.signs === b.readings[i]!.signs)

/** A change that does not fit changes nothing: the window has refused it too. */
function changed(read: Read, change: Parameters<typeof applyChange>[1]): Read {
  const outcome = applyChange(read.page, change)
  return outcome.ok ? { page: outcome.value.page } : read
}

const messageOf = (error: unknown): string => (error instanceof Error ? error.message : String(error))
