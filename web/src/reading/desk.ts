/**
 * The reading desk: reads all voices together and draws them in time, away from the window's own thread. Changes are made as they
 * come; reading waits until no more of them are waiting, so that one who types quickly is read once.
 */
import {
  alignVoices,
  applyChange,
  readTogether,
  type FictaGrade,
  type Page,
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
}

export class Desk {
  #real: Read = { page: { title: "", voices: [], shapes: [], surfaces: [], zones: [], alternatives: [] } }
  #supposed: Read | undefined
  #revision = -1
  #wanted: TimeWanted | undefined
  readonly #time = new TimeDrawing()
  #due = false
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
        this.#real = changed(this.#real, message.change)
        this.#supposed = undefined
        return this.#changed(message.revision)
      case "suppose":
        this.#supposed = message.change && changed(this.#real, message.change)
        return this.#changed(message.revision)
      case "time":
        this.#wanted = message.wanted
        return this.#later()
      case "see":
        if (this.#wanted) this.#wanted = { ...this.#wanted, see: message.see }
        return this.#tellSystems()
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

  #settle(): void {
    const now = this.#now
    try {
      if (!now.together) {
        const before = now === this.#supposed ? this.#real.together : this.#before
        now.together = readTogether(now.page, {}, before)
        now.score = alignVoices(now.page, now.together.readings)
        if (now === this.#real) this.#before = now.together
      }
      this.post({ tell: "read", revision: this.#revision, summary: summaryOf(now.page, now.together, now.score!) })
      this.#drawTime()
    } catch (error) {
      this.post({ tell: "failed", what: messageOf(error) })
    }
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
    if (question.about !== "text" && (this.#due || !this.#now.together)) {
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

  /** Left as soon as the page is another. */
  async #mending() {
    const { mendingOf } = await import("./desk-mending.js")
    const revision = this.#revision
    const progress = (share: number): boolean => {
      this.post({ tell: "progress", share })
      return this.#revision === revision && !this.#due
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

/** A change that does not fit changes nothing: the window has refused it too. */
function changed(read: Read, change: Parameters<typeof applyChange>[1]): Read {
  const outcome = applyChange(read.page, change)
  return outcome.ok ? { page: outcome.value.page } : read
}

const messageOf = (error: unknown): string => (error instanceof Error ? error.message : String(error))
