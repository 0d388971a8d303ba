/** An MEI file as a document: its page, and the text it came from. */
import { done, failed, type Problem, type Result, type SignId } from "../../base/index.js"
import { LEVELS, type Page } from "../../page/index.js"
import { readDecisions } from "./read/decisions.js"
import { finishAlternative, finishVoice, giveIds, placeMarks, sourcesById } from "./read/finish.js"
import { readFacsimile, readPeople, readShapes } from "./read/header.js"
import { Reader, type Source } from "./read/reader.js"
import { readMusic, titleOf } from "./read/structure.js"
import { readYears } from "./read/years.js"
import { attribute, childOf, childrenOf, elementsIn, parseXml, type XmlElement, type XmlTree } from "./xml.js"

/** An MEI file: its page, and all else that is kept when the page is written back into it. */
export interface MeiDocument {
  readonly page: Page
  /** The file's text as it was read. */
  readonly source: string
  /** As the file says: "5.1", "4.0.0". */
  readonly version: string
  /** The page as the text says it; the same object as `page` until an edit. */
  readonly original: Page
}

/** A document read, with where each sign came from: for the writer. */
export interface Traced {
  readonly document: MeiDocument
  readonly tree: XmlTree
  readonly reader: Reader
  readonly sources: ReadonlyMap<SignId, Source>
}

/** The document with another page, as an edit leaves it; its text is changed when it is written. */
export function withPage(document: MeiDocument, page: Page): MeiDocument {
  return { ...document, page }
}

export const MEI_NAMESPACE = "http://www.music-encoding.org/ns/mei"

/**
 * Reads an MEI file (4.0, 5.0 or 5.1) of mensural notation. What cannot be used fails with problems; what was read
 * with doubt succeeds with problems. Never throws and never fetches anything. `file` is only named in problems.
 */
export function readMei(text: string, file?: string): Result<MeiDocument> {
  try {
    const traced = traceMei(text, file)
    return traced.ok ? done(traced.value.document, traced.problems) : traced
  } catch (thrown) {
    // Our own mistake, not the user's; a file must still not bring the program down.
    const detail = thrown instanceof Error ? thrown.message : String(thrown)
    return failed({
      code: "mei-unreadable",
      what: `The file could not be read (${detail}).`,
      where: { file },
      mend: "Please report this with the file; until then, cut the file down to the part you need.",
      severity: "error",
    })
  }
}

/** As `readMei`, with what the writer needs to know besides. */
export function traceMei(text: string, file?: string): Result<Traced> {
  const parsed = parseXml(text, file)
  if (!parsed.ok) return parsed
  const tree = parsed.value
  const root = rootOf(tree.root)
  const refused = root ? refusal(root, file) : notMei(tree.root, file)
  if (refused || !root) return failed(refused!)
  const reader = new Reader(root, file)
  reportRoot(reader, tree.root, root)
  const page = readPage(reader, root)
  const empty = noMensuralContent(reader, root, file)
  if (empty) return failed(empty, ...reader.allProblems())
  const version = attribute(root, "meiversion") ?? "5.1"
  const document = { page, original: page, source: text, version }
  return done({ document, tree, reader, sources: sourcesById(reader) }, reader.allProblems())
}

function readPage(reader: Reader, root: XmlElement): Page {
  const music = root.localName === "music" ? root : childOf(root, "music")
  if (!music) return { title: titleOf(root), voices: [], shapes: [], surfaces: [], zones: [], alternatives: [] }
  readShapes(reader, music)
  readMusic(reader, music)
  placeMarks(reader)
  giveIds(reader)
  const decisions = readDecisions(reader, music)
  const people = readPeople(childOf(root, "meiHead"))
  const years = readYears(childOf(root, "meiHead"))
  const voices = [...reader.voices.values()].filter(voice => !voice.passedOver)
  return {
    title: titleOf(root),
    ...(years && { years }),
    voices: voices.map(finishVoice),
    shapes: [...reader.shapes.values()],
    ...readFacsimile(reader, music),
    alternatives: reader.alternatives.map(finishAlternative),
    ...(decisions.length > 0 && { decisions }),
    ...(people && { people }),
  }
}

function rootOf(root: XmlElement): XmlElement | undefined {
  if (root.localName === "mei") return root
  return root.localName === "meiCorpus" ? childOf(root, "mei") : undefined
}

function notMei(root: XmlElement, file: string | undefined): Problem {
  return {
    code: "not-mei",
    what: `This is not MEI: the root element is <${root.nodeName.slice(0, 60)}>, not <mei>.`,
    where: { file, line: root.lineNumber, column: root.columnNumber },
    mend: "Open an MEI file of mensural notation (4.0, 5.0 or 5.1).",
    severity: "error",
  }
}

function refusal(root: XmlElement, file: string | undefined): Problem | undefined {
  const version = attribute(root, "meiversion")
  if (version === undefined || /^(4\.0|5\.0|5\.1)(?!\d)/.test(version)) return undefined
  return {
    code: "mei-version",
    what: `The file says it is MEI ${version.slice(0, 40)}; MEI 4.0, 5.0 and 5.1 can be read.`,
    where: { file, line: root.lineNumber, column: root.columnNumber },
    mend: "Convert the file to MEI 5.1 first.",
    severity: "error",
  }
}

function reportRoot(reader: Reader, top: XmlElement, root: XmlElement): void {
  if (top !== root) {
    const others = childrenOf(top).filter(child => child.localName === "mei").length - 1
    if (others > 0)
      reader.report(
        "mei-corpus",
        `The file holds ${others + 1} documents; the first is read.`,
        "Save each document as a file of its own.",
        top,
      )
  }
  if (attribute(root, "meiversion") === undefined)
    reader.report(
      "version-missing",
      "The file does not say its MEI version; it is read as 5.1.",
      'Write meiversion="5.1" on <mei>.',
      root,
    )
  if (root.namespaceURI !== MEI_NAMESPACE)
    reader.report(
      "namespace",
      "The root element is not in MEI's namespace; the file is read as if it were.",
      `Write xmlns="${MEI_NAMESPACE}" on <mei>.`,
      root,
    )
}

/** No voice of mensural notation at all, or only notes of common notation. */
function noMensuralContent(reader: Reader, root: XmlElement, file: string | undefined): Problem | undefined {
  const voices = [...reader.voices.values()].filter(voice => !voice.passedOver)
  if (voices.length > 0 && !isOnlyCommon(root)) return undefined
  const common = [...elementsIn(root)].some(one => one.localName === "note")
  return {
    code: "no-mensural-content",
    what: common
      ? "The file has notes, but none in mensural notation."
      : "The file has no voice: no staff and no staffDef.",
    where: { file, line: root.lineNumber, column: root.columnNumber },
    mend: common
      ? 'Open the piece in its original notation: durations are maxima, longa, brevis and so on, notationtype is "mensural".'
      : "Write a scoreDef with a staffDef for each voice, and a section with a staff for each.",
    severity: "error",
  }
}

function isOnlyCommon(root: XmlElement): boolean {
  let common = 0
  for (const element of elementsIn(root)) {
    if (element.localName === "staffDef" && /^mensural/.test(attribute(element, "notationtype") ?? "")) return false
    if (element.localName !== "note" && element.localName !== "rest") continue
    const dur = attribute(element, "dur")
    if (dur === undefined || (LEVELS as readonly string[]).includes(dur) || dur === "2B" || dur === "3B") return false
    common++
  }
  return common > 0
}
