/** The reading desk in a thread of its own. */
import { Desk } from "./desk.js"
import type { FromDesk, ToDesk } from "./messages.js"

/** What a worker has of its surroundings, as far as it is used here. */
interface Surroundings {
  postMessage(message: FromDesk): void
  addEventListener(name: "message", take: (event: MessageEvent<ToDesk>) => void): void
}
const surroundings = self as unknown as Surroundings

/** A message to oneself comes after those that are waiting already. */
const turn = new MessageChannel()
const due: (() => void)[] = []
turn.port1.addEventListener("message", () => due.shift()?.())
turn.port1.start()

const desk = new Desk(
  message => surroundings.postMessage(message),
  run => {
    due.push(run)
    turn.port2.postMessage(undefined)
  },
)
surroundings.addEventListener("message", ({ data }) => desk.take(data))
