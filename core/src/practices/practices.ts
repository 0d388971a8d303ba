/** The practices as values, and what can be done with one. */
import { done, failed, type Problem, type Result } from "../base/index.js"
import { arsAntiqua } from "./ars-antiqua.js"
import { arsNova, white } from "./mensural.js"
import { ALIASES } from "./options.js"
import type { Practice, RuleId, Settings } from "./types.js"

/** The practices that are read by rules of their own, the oldest first. */
export const PRACTICES: readonly Practice[] = [arsAntiqua, arsNova, white]

/** The practice of this name; MEI's dotted form ("ars.nova") is understood too, and any other way to part its words. */
export function practiceNamed(name: string): Practice | undefined {
  const wanted = lettersOf(name)
  return PRACTICES.find(practice => lettersOf(practice.name) === wanted)
}

const lettersOf = (name: string): string => name.toLowerCase().replaceAll(/[\s._-]/g, "")

/** A copy of the practice without one rule. */
export function without(practice: Practice, rule: RuleId): Practice {
  return { ...practice, rules: practice.rules.filter(r => r.id !== rule) }
}

/** All options of the practice, the given ones over the defaults. Names the theory pages use are understood. */
export function settingsOf(practice: Practice, given: Readonly<Record<string, string>>): Result<Settings> {
  const settings: Record<string, string> = {}
  for (const spec of practice.options) settings[spec.name] = spec.default
  const problems: Problem[] = []
  for (const [name, value] of Object.entries(given))
    for (const [known, text] of Object.entries(
      (Object.hasOwn(ALIASES, name) && ALIASES[name]?.(value)) || { [name]: value },
    )) {
      const problem = problemWith(practice, known, text)
      if (problem) problems.push(problem)
      else settings[known] = text
    }
  return problems.length > 0 ? failed(...problems) : done(settings)
}

function problemWith(practice: Practice, name: string, value: string): Problem | undefined {
  const spec = practice.options.find(o => o.name === name)
  const names = practice.options.map(o => o.name).join(", ")
  if (!spec)
    return {
      code: "unknown-option",
      what: `The practice ${practice.name} has no option "${name}".`,
      mend: `It has: ${names}.`,
      severity: "error",
    }
  if (spec.values.includes(value)) return undefined
  return {
    code: "unknown-option-value",
    what: `The option ${name} cannot be "${value}".`,
    mend: `Choose one of: ${spec.values.join(", ")}.`,
    severity: "error",
  }
}
