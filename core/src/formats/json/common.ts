/** What all objects for other programs have alike. */
import type { Problem } from "../../base/index.js"

export type Json = { [key: string]: unknown }

export function problemJson({ code, what, where, mend, severity }: Problem): Json {
  return { code, what, ...(where ? { where } : {}), mend, severity: severity ?? "warning" }
}

/** The member that tells of problems; none where there are none. */
export const problemsMember = (problems: readonly Problem[] = []): Json =>
  problems.length > 0 ? { problems: problems.map(problemJson) } : {}

/** The object of a file that could not be read. */
export const unreadable = (format: string, version: number, file: string, problems: readonly Problem[]): Json => ({
  format,
  version,
  file,
  problems: problems.map(problemJson),
})

/** Weights and doubts are estimates; six digits of them are plenty. */
export const rounded = (estimate: number): number => Math.round(estimate * 1e6) / 1e6
