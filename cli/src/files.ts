/** Files in and out. What can go wrong on a disk comes back as a problem; nothing is left half written. */
import {
  closeSync,
  fsyncSync,
  lstatSync,
  linkSync,
  openSync,
  readSync,
  renameSync,
  rmSync,
  statSync,
  writeSync,
} from "node:fs"
import { basename, dirname, extname, join } from "node:path"
import type { Problem, Result } from "@resolutio/core"

/** The largest file that is read, in bytes. The longest real pieces are a tenth of it. */
export const LARGEST = 64 * 1024 * 1024

/** The text of a file. Files that are missing, too large or no text give a problem with the file's name in it. */
export function readText(file: string, largest = LARGEST): Result<string> {
  let bytes: Buffer | undefined
  try {
    bytes = readUpTo(file, largest)
  } catch (error) {
    return failure(file, "file-unreadable", `The file cannot be read: ${sentence(error)}.`, mendReading(error))
  }
  if (!bytes) {
    const limit = `${largest / 1024 / 1024} MB`
    return failure(file, "file-too-large", `The file is larger than ${limit}.`, "Give a file with one piece in it.")
  }
  return decode(file, bytes)
}

/** Reads in pieces, so that an endless device stops at the limit too; undefined when there is more than that. */
function readUpTo(file: string, largest: number): Buffer | undefined {
  const size = statSync(file).size
  if (size > largest) return undefined
  const handle = openSync(file, "r")
  try {
    const parts: Buffer[] = []
    let total = 0
    for (;;) {
      const part = Buffer.allocUnsafe(Math.max(65536, size + 1 - total))
      const length = readSync(handle, part, 0, part.length, null)
      if (length === 0) return Buffer.concat(parts, total)
      parts.push(part.subarray(0, length))
      total += length
      if (total > largest) return undefined
    }
  } finally {
    closeSync(handle)
  }
}

function decode(file: string, bytes: Buffer): Result<string> {
  const encoding = encodingOf(bytes)
  try {
    const value = new TextDecoder(encoding, { fatal: true, ignoreBOM: false }).decode(bytes)
    if (!value.includes("\0")) return { ok: true, value, problems: [] }
  } catch {
    // Said below: not this encoding, or one that nobody knows.
  }
  const mend = "Give an MEI file or a shorthand file (.figurae) saved as UTF-8 text."
  return failure(file, "not-text", `The file is not text in ${encoding.slice(0, 20).toUpperCase()}.`, mend)
}

/** By byte order mark, then by the XML declaration, else UTF-8. */
function encodingOf(bytes: Buffer): string {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return "utf-16le"
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return "utf-16be"
  const head = bytes.toString("latin1", 0, 200)
  const declared = /^\s*<\?xml[^>]*?encoding\s*=\s*["']([A-Za-z0-9._-]+)["']/.exec(head)
  return declared?.[1]?.toLowerCase() ?? "utf-8"
}

/**
 * Writes a whole file or none of it: into a new file beside it, which then takes the name. Without `force` a file that
 * is there stays as it is. Gives the problem, or undefined when it is written.
 */
export function writeWhole(file: string, content: string | Uint8Array, force = false): Problem | undefined {
  const refused = refusedFile(file, force)
  if (refused) return refused
  const temporary = besideIt(file)
  try {
    writeNew(temporary, content)
  } catch (error) {
    // Nothing to take away where the name itself could not be: that has its own problem already.
    removeQuietly(temporary)
    return notWritten(file, error)
  }
  return taken(temporary, file, force)
}

/** A file that is made but has not its name yet. */
export interface Staged {
  /** Gives it its name; the problem where it cannot have it. */
  take(): Problem | undefined
  /** Removes it where it has not been taken. */
  drop(): void
}

/**
 * The same for a file that is made piece by piece, or by another program: `fill` makes the file of the name that it is
 * given. What `fill` throws is thrown on, unless it is the disk's refusal; nothing is left then.
 */
export async function stage(
  file: string,
  force: boolean,
  fill: (temporary: string) => Promise<void>,
): Promise<Result<Staged>> {
  const refused = refusedFile(file, force)
  if (refused) return { ok: false, problems: [refused] }
  const temporary = besideIt(file)
  const drop = (): void => removeQuietly(temporary)
  try {
    await fill(temporary)
  } catch (error) {
    drop()
    if (!isRefusal(error)) throw error
    return { ok: false, problems: [notWritten(file, error)] }
  }
  return { ok: true, value: { take: () => taken(temporary, file, force), drop }, problems: [] }
}

function taken(temporary: string, file: string, force: boolean): Problem | undefined {
  try {
    take(temporary, file, force)
    return undefined
  } catch (error) {
    return notWritten(file, error)
  } finally {
    removeQuietly(temporary)
  }
}

/** The problem with writing to this name, as far as it can be told before anything is written. */
export function refusedFile(file: string, force: boolean): Problem | undefined {
  try {
    const there = lstatSync(file, { throwIfNoEntry: false })
    if (there && statSync(file, { throwIfNoEntry: false })?.isFile() === false) return noPlainFile(file)
    return there && !force ? exists(file) : undefined
  } catch (error) {
    return notWritten(file, error)
  }
}

/** Hidden, in the same folder, and of the same ending, by which other programs know what to make. */
export const besideIt = (file: string): string =>
  join(dirname(file), `.${basename(file, extname(file))}.${process.pid}.tmp${extname(file)}`)

/** Whether it is the system that refused, rather than a fault of ours. */
export const isRefusal = (error: unknown): boolean =>
  error instanceof Error && (error as NodeJS.ErrnoException).syscall !== undefined

/** The disk's refusal to write a file, as a problem. */
export function notWritten(file: string, error: unknown): Problem {
  if ((error as NodeJS.ErrnoException).code === "EEXIST") return exists(file)
  const mend = "Choose another name with -o, in a folder that is there and may be written to."
  return problem(file, "cannot-write", `The file cannot be written: ${sentence(error)}.`, mend)
}

function take(temporary: string, file: string, force: boolean): void {
  if (force) renameSync(temporary, file)
  else takeFreeName(temporary, file)
}

/** Removes it if it is there, and says nothing if it cannot. */
export function removeQuietly(file: string): void {
  try {
    rmSync(file, { force: true })
  } catch {
    // The first failure is the one to tell.
  }
}

function writeNew(file: string, content: string | Uint8Array): void {
  const bytes = typeof content === "string" ? Buffer.from(content, "utf8") : content
  const handle = openSync(file, "wx")
  try {
    for (let at = 0; at < bytes.length;) at += writeSync(handle, bytes, at)
    fsyncSync(handle)
  } finally {
    closeSync(handle)
  }
}

/** A link fails when the name has been taken meanwhile; not every file system has links. */
function takeFreeName(temporary: string, file: string): void {
  try {
    linkSync(temporary, file)
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "EEXIST") throw error
    renameSync(temporary, file)
  }
}

const exists = (file: string) =>
  problem(
    file,
    "file-exists",
    "There is a file of this name already; it was left as it is.",
    "Choose another name with -o, or add --force to write over it.",
  )
const noPlainFile = (file: string) =>
  problem(
    file,
    "cannot-write",
    "This name belongs to something that is no ordinary file.",
    "Choose another name with -o.",
  )

function problem(file: string, code: string, what: string, mend: string): Problem {
  return { code, what, where: { file }, mend, severity: "error" }
}
function failure<T>(file: string, code: string, what: string, mend: string): Result<T> {
  return { ok: false, problems: [problem(file, code, what, mend)] }
}

const SENTENCES: Record<string, string> = {
  ENOENT: "there is no file or folder of this name",
  EACCES: "this account may not do that",
  EPERM: "this account may not do that",
  EISDIR: "it is a folder",
  ENOTDIR: "a part of its path is no folder",
  ENOSPC: "the disk is full",
  EROFS: "the disk may only be read",
  ENAMETOOLONG: "its name is too long",
  EMFILE: "too many files are open",
}
function sentence(error: unknown): string {
  const { code, message } = error as NodeJS.ErrnoException
  return SENTENCES[code ?? ""] ?? `the system says “${message}”`
}
function mendReading(error: unknown): string {
  return (error as NodeJS.ErrnoException).code === "EISDIR"
    ? "Name the files in it one by one."
    : "Check the name and the folder, and that the file may be read."
}
