/** What a command may do to the outside: print, and know how it will be seen. Passed in, so that tests need no process. */
export interface Shell {
  /** Prints one line (or several, parted by newlines) of the answer. */
  out(text: string): void
  /** Prints to the person rather than into the answer. */
  err(text: string): void
  /** Width of the terminal in characters; undefined when the output goes elsewhere and need not be cut. */
  readonly columns?: number
  readonly colour: boolean
  /** Writes over the line of progress, or wipes it out with ""; undefined where nobody watches. */
  readonly status?: (text: string) => void
  /** Ends long work; without it an interrupt from the keyboard does. */
  readonly signal?: AbortSignal
}

/** Exit statuses; scripts rely on them. */
export const READ = 0
export const READ_WITH_PROBLEMS = 1
export const CANNOT = 2
/** As shells have it for an interrupt from the keyboard. */
export const STOPPED = 130

/** A shell on this process. Output that nobody reads any more (`| head`) ends the program quietly. */
export function processShell(): Shell {
  process.stdout.on("error", (error: NodeJS.ErrnoException) => {
    if (error.code === "EPIPE") process.exit(process.exitCode ?? 0)
    throw error
  })
  const terminal = process.stdout.isTTY
  return {
    out: text => void process.stdout.write(text + "\n"),
    err: text => void process.stderr.write(text + "\n"),
    columns: terminal ? process.stdout.columns : undefined,
    colour: terminal && !process.env.NO_COLOR && process.env.TERM !== "dumb",
    // Back to the beginning of the line, which is wiped out.
    ...(process.stderr.isTTY ? { status: (text: string) => void process.stderr.write(`\r\x1b[K${text}`) } : {}),
  }
}

/**
 * Text from a file, made safe to print: a title must not be able to steer the terminal. Control characters (line ends
 * too) and marks that turn the direction of writing become spaces.
 */
export function plain(text: string): string {
  // oxlint-disable-next-line no-control-regex -- these are the ones to find
  return text.replace(/[\u0000-\u001f\u007f-\u009f\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]+/g, " ").trim()
}
