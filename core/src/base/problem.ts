/** What a user's page may cause comes back as a value: what is wrong, where, and how to mend it. */
export interface Problem {
  /** Stable kebab-case name of the kind of problem. */
  readonly code: string
  /** One sentence: what is wrong. */
  readonly what: string
  readonly where?: ProblemPlace
  /** One sentence: what the user can do. */
  readonly mend: string
  /** "error": the input cannot be used; "warning": it was read, with this in doubt. Default "warning". */
  readonly severity?: "error" | "warning"
}

/** As much as is known of where it is. */
export interface ProblemPlace {
  readonly file?: string
  /** 1-based. */
  readonly line?: number
  /** 1-based. */
  readonly column?: number
  readonly sign?: string
  /** As a person would say it: "f. 3v, triplum, staff 2, sign 7". */
  readonly place?: string
}

/** The outcome of anything that a user's input can make fail. */
export type Result<T> =
  | { readonly ok: true; readonly value: T; readonly problems: readonly Problem[] }
  | { readonly ok: false; readonly problems: readonly Problem[] }

export function done<T>(value: T, problems: readonly Problem[] = []): Result<T> {
  return { ok: true, value, problems }
}
export function failed<T>(...problems: Problem[]): Result<T> {
  return { ok: false, problems }
}

/** For the last branch of a switch: the compiler finds every place where a new kind must be handled. */
export function unreachable(value: never): never {
  throw new Error(`unreachable: ${JSON.stringify(value)}`)
}
