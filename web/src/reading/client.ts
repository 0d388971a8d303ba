/** The window's end of the line to the reading desk. */
import type { AnswerTo, FromDesk, Question, ToDesk } from "./messages.js"

/** A worker, or whatever stands for it in a test. */
export interface DeskLine {
  send(message: ToDesk): void
  listen(take: (message: FromDesk) => void): void
}

export function workerLine(worker: Worker): DeskLine {
  return {
    send: message => worker.postMessage(message),
    listen: take => worker.addEventListener("message", ({ data }: MessageEvent<FromDesk>) => take(data)),
  }
}

type News = Exclude<FromDesk, { tell: "answer" }>

export class DeskClient {
  #asked = 0
  readonly #waiting = new Map<number, { resolve: (answer: unknown) => void; reject: (error: Error) => void }>()

  /** `take` is given all that the desk tells without being asked. */
  constructor(
    private readonly line: DeskLine,
    take: (news: News) => void,
  ) {
    line.listen(message => {
      if (message.tell === "answer") this.#settle(message.ask, one => one.resolve(message.answer))
      else if (message.tell === "failed" && message.ask !== undefined)
        this.#settle(message.ask, one => one.reject(new Error(message.what)))
      else take(message)
    })
  }

  send(message: ToDesk): void {
    this.line.send(message)
  }

  ask<Q extends Question>(question: Q): Promise<AnswerTo<Q>> {
    const ask = ++this.#asked
    return new Promise((resolve, reject) => {
      this.#waiting.set(ask, { resolve: answer => resolve(answer as AnswerTo<Q>), reject })
      this.line.send({ do: "answer", ask, question })
    })
  }

  #settle(ask: number, how: (one: { resolve: (answer: unknown) => void; reject: (error: Error) => void }) => void) {
    const one = this.#waiting.get(ask)
    this.#waiting.delete(ask)
    if (one) how(one)
  }
}
