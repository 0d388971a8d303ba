/** Why a change cannot be made: what it names is not there, is taken, or cannot stand there. */
import type { Problem } from "../base/index.js"
import type { Decision } from "./decision.js"
import type { Ligature, Sign } from "./signs.js"

export function missing(id: string): Problem {
  return {
    code: "not-on-the-page",
    what: `The page has nothing with the id “${id}”.`,
    where: { sign: id },
    mend: "The change was made for another page; make it again on this one.",
    severity: "error",
  }
}

export function taken(id: string): Problem {
  return {
    code: "id-taken",
    what: `The id “${id}” stands on the page already.`,
    where: { sign: id },
    mend: "Give the new sign or voice an id of its own.",
    severity: "error",
  }
}

export function noMember(sign: Sign): Problem {
  return {
    code: "not-in-a-ligature",
    what: `A ${sign.kind} cannot stand in a ligature.`,
    where: { sign: sign.id },
    mend: "Put it before or after the ligature.",
    severity: "error",
  }
}

export function lastMember(ligature: Ligature): Problem {
  return {
    code: "empty-ligature",
    what: "A ligature cannot lose its last member.",
    where: { sign: ligature.id },
    mend: "Delete the ligature itself.",
    severity: "error",
  }
}

export function noSuchDecision(id: string): Problem {
  return {
    code: "no-such-decision",
    what: `The page has no decision with the id “${id}”.`,
    where: { place: `decision ${id}` },
    mend: "The change was made for another page; make it again on this one.",
    severity: "error",
  }
}

export function decisionIdTaken(id: string): Problem {
  return {
    code: "id-taken",
    what: `The id “${id}” stands on the page already.`,
    where: { place: `decision ${id}` },
    mend: "Give the decision an id of its own.",
    severity: "error",
  }
}

export function noSignForIt({ id, sign }: Decision): Problem {
  return {
    code: "not-on-the-page",
    what: `The page has nothing with the id “${sign}” to decide on.`,
    where: { sign, place: `decision ${id}` },
    mend: "Name a note, a rest or a dot of this page.",
    severity: "error",
  }
}
