/** Why a change cannot be made: what it names is not there, is taken, or cannot stand there. */
import type { Problem, ProblemPlace } from "../base/index.js"
import type { Decision } from "./decision.js"
import type { Ligature, Sign } from "./signs.js"

const refusal = (code: string, what: string, where: ProblemPlace, mend: string): Problem => ({
  code,
  what,
  where,
  mend,
  severity: "error",
})

const FOR_ANOTHER_PAGE = "The change was made for another page; make it again on this one."
const ofDecision = (id: string): ProblemPlace => ({ place: `decision ${id}` })

export const missing = (id: string): Problem =>
  refusal("not-on-the-page", `The page has nothing with the id “${id}”.`, { sign: id }, FOR_ANOTHER_PAGE)

export const taken = (id: string): Problem =>
  refusal("id-taken", onThePage(id), { sign: id }, "Give the new sign or voice an id of its own.")

const onThePage = (id: string): string => `The id “${id}” stands on the page already.`

export const noMember = ({ kind, id }: Sign): Problem =>
  refusal(
    "not-in-a-ligature",
    `A ${kind} cannot stand in a ligature.`,
    { sign: id },
    "Put it before or after the ligature.",
  )

export const lastMember = ({ id }: Ligature): Problem =>
  refusal("empty-ligature", "A ligature cannot lose its last member.", { sign: id }, "Delete the ligature itself.")

export const noSuchDecision = (id: string): Problem =>
  refusal("no-such-decision", `The page has no decision with the id “${id}”.`, ofDecision(id), FOR_ANOTHER_PAGE)

export const decisionIdTaken = (id: string): Problem =>
  refusal("id-taken", onThePage(id), ofDecision(id), "Give the decision an id of its own.")

export const noSignForIt = ({ id, sign }: Decision): Problem =>
  refusal(
    "not-on-the-page",
    `The page has nothing with the id “${sign}” to decide on.`,
    { sign, ...ofDecision(id) },
    "Name a note, a rest or a dot of this page.",
  )
