/** How a problem is told to a person: file, line, what, how to mend it. */
import type { Problem } from "@resolutio/core"
import { CANNOT, plain, type Shell } from "./shell.js"

/** Two lines: where and what; then how to mend it. */
export function showProblem(problem: Problem, file?: string): string {
  const { where } = problem
  const place = [where?.file ?? file, ...lineAndColumn(problem), where?.place]
    .filter(Boolean)
    .map(part => plain(String(part)))
  const head = place.length > 0 ? `${place.join(", ")}: ` : ""
  return `${head}${plain(problem.what)}\n    To mend it: ${plain(problem.mend)}`
}

function lineAndColumn({ where }: Problem): string[] {
  if (where?.line === undefined) return []
  return [`line ${where.line}`, ...(where.column === undefined ? [] : [`column ${where.column}`])]
}

/** "a, b or c": what would be accepted, for a message that lists it. */
export function either(names: readonly string[]): string {
  if (names.length < 2) return names[0] ?? "nothing"
  return `${names.slice(0, -1).join(", ")} or ${names.at(-1)}`
}

/** Tells the problems that stopped a command; gives the exit status for that. */
export function refuse(problems: readonly Problem[], shell: Shell, file?: string): number {
  for (const problem of problems) shell.err(showProblem(problem, file))
  return CANNOT
}
