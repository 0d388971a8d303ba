/** Repeats, refrains and stanzas as they stand, or written out in the order in which they are sung. */
import { toText, type Problem } from "../base/index.js"
import type { FormDecision, Page } from "../page/index.js"
import { formOf, orderOf, type Form } from "./form.js"
import type { Score, ScoreMark } from "./types.js"
import { writtenOut } from "./write-out.js"

/** How repeats become music. */
export interface AlignOptions {
  /**
   * "signs": as the page has them, once with their marks (unless said otherwise). "written": repeats, endings and refrains
   * written out, once through, further stanzas under the same notes. "stanzas": one stanza after another too.
   */
  readonly repeats?: "signs" | "written" | "stanzas"
}

export function withForm(score: Score, page: Page, { repeats = "signs" }: AlignOptions): Score {
  const form = formOf(score)
  const stated = page.decisions?.findLast((one): one is FormDecision => one.form !== undefined)
  const told: Score = {
    ...score,
    problems: [...score.problems, ...unknownParts(stated, form), ...lateEntries(score)],
  }
  const isPlain = form.parts.every(({ repeat }) => !repeat) && form.parts.length < 2 && form.strophes < 2
  if (repeats === "signs") return isPlain ? told : { ...told, form }
  return writtenOut(told, form, orderOf(score, form, stated?.form, repeats === "stanzas"))
}

function unknownParts(stated: FormDecision | undefined, { parts }: Form): Problem[] {
  const unknown = stated?.form.find(({ part }) => !parts.some(({ name }) => name === part))
  if (!stated || !unknown) return []
  const known = parts.map(({ name, from }) => `${name} from ${toText(from)}`).join(", ")
  return [
    {
      code: "no-such-part",
      what: `The order that was decided names a part ${unknown.part}, which the marks of the page do not make; it is left out.`,
      where: { sign: stated.sign },
      mend: `The parts are ${known}; mark a further one with section, or a repeat.`,
    },
  ]
}

const REPEATS: ReadonlySet<ScoreMark["of"]> = new Set<ScoreMark["of"]>(["repeat-start", "repeat-end", "refrain-start"])

/** Voices that enter one after another do not come to a repeat together. */
function lateEntries({ voices }: Score): Problem[] {
  const late = voices.find(
    ({ canon, events }) => (canon?.number ?? 1) > 1 && events[0]?.kind === "rest" && events[0].sign === null,
  )
  const model = late && voices.find(({ part, marks }) => part === late.part && marks.some(({ of }) => REPEATS.has(of)))
  if (!model) return []
  return [
    {
      code: "repeat-in-canon",
      what: `${model.label} has repeats, and ${late!.label} sings the same part later; the repeats are those of ${model.label}.`,
      where: { sign: model.marks.find(({ of }) => REPEATS.has(of))!.sign },
      mend: "State the canon with what is sung again as a statement of its own (then), and take the marks away.",
    },
  ]
}
