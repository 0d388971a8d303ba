/**
 * An edited document as text: the old text with only the edited elements changed in it. Everything that the page does
 * not know (other elements and attributes, comments, instructions, blanks, the version) stays where it is.
 */
import type { Page, Voice } from "../../../page/index.js"
import type { Traced } from "../document.js"
import type { VoiceDraft } from "../read/reader.js"
import { initialXml, staffDefXml, staffXml, writerFor } from "../write/page.js"
import { handAttributes } from "../write/signs.js"
import { Writer } from "../write/writer.js"
import { element as newElement } from "../../xml.js"
import { NO_READING } from "../tokens.js"
import { attribute, childOf, elementsIn, type XmlElement } from "../xml.js"
import { same } from "../../../page/index.js"
import { patchDecisions } from "./decisions.js"
import { Edits } from "./edits.js"
import { ElementPatcher } from "./element.js"
import { patchHead } from "./head.js"
import { originsOf, type Origins } from "./origins.js"
import { RunPatcher, type Place } from "./run.js"

/** `traced` is the document as its source says it; `page` what it is to say. */
export function patchMei(traced: Traced, page: Page): string {
  return new DocumentPatch(traced, page).text()
}

class DocumentPatch {
  private readonly edits: Edits
  private readonly patcher: ElementPatcher
  private readonly origins: Origins
  private readonly runs: RunPatcher
  private readonly drafts: readonly VoiceDraft[]
  private readonly old: Page

  constructor(
    private readonly traced: Traced,
    private readonly page: Page,
  ) {
    this.edits = new Edits(traced.document.source)
    this.patcher = new ElementPatcher(this.edits, traced.tree.root, traced.tree.spans)
    this.origins = originsOf(traced, page)
    this.old = traced.document.original
    const all = { has: () => true }
    const none = { at: () => undefined, alone: () => newElement("app"), written: [], bound: new Set<string>() }
    const symbols = new Map([...traced.reader.shapes].map(([id, shape]) => [shape.name, id]))
    const writer = writerFor(page, symbols)
    const plain = new Writer(page, all, none, symbols)
    this.runs = new RunPatcher(this.patcher, this.origins, writer, plain, this.newlyDoubted())
    this.drafts = [...traced.reader.voices.values()].filter(voice => !voice.passedOver)
  }

  text(): string {
    for (const element of this.origins.elements) this.patcher.remove(element)
    for (const [element, name] of this.origins.attributes) this.patcher.set(element, name, undefined)
    patchHead(this.patcher, this.traced, this.page)
    this.patchVoices()
    this.patchAlternatives()
    patchDecisions(this.patcher, this.traced, this.origins, this.page)
    return this.edits.apply()
  }

  /** Signs that have another reading beside them now and had none: they go into an app of their own. */
  private newlyDoubted(): Set<string> {
    const known = new Set(this.old.alternatives.map(one => one.id))
    return new Set(this.page.alternatives.filter(one => !known.has(one.id)).flatMap(one => one.insteadOf))
  }

  private patchVoices(): void {
    const wanted = new Map(this.page.voices.map(voice => [voice.id, voice]))
    this.old.voices.forEach((voice, index) => {
      const now = wanted.get(voice.id)
      wanted.delete(voice.id)
      if (!now) this.removeVoice(this.drafts[index]!)
      else if (now !== voice) this.patchVoice(voice, now, this.drafts[index]!)
    })
    for (const voice of wanted.values()) this.addVoice(voice)
  }

  private removeVoice(draft: VoiceDraft): void {
    for (const element of [...draft.definitions.slice(0, 1), ...draft.staves]) this.patcher.remove(element)
  }

  private patchVoice(old: Voice, voice: Voice, draft: VoiceDraft): void {
    const [staffDef] = draft.definitions
    if (staffDef) this.patchDefinition(staffDef, old, voice)
    const place: Place = {
      isContainer: element => element.localName === "layer",
      put: text => this.putInVoice(draft, text),
      putInitial:
        staffDef &&
        (sign =>
          this.edits.append(this.patcher.spanOf(staffDef), this.patcher.text(initialXml(this.runs.writer, sign)))),
    }
    this.runs.patchRun(old.signs, voice.signs, place)
  }

  private patchDefinition(staffDef: XmlElement, old: Voice, voice: Voice): void {
    const n = attribute(staffDef, "n") ?? old.n
    const [before, after] = [old, voice].map(one => staffDefXml(this.runs.plain, { ...one, signs: [] }, n))
    const label = childOf(staffDef, "label")
    if (label && old.label !== voice.label) this.patcher.setText(label, voice.label)
    for (const name of new Set([...Object.keys(before!.attributes), ...Object.keys(after!.attributes)])) {
      const kept = name === "n" || name === "xml:id" || name === "type" || (name === "label" && label !== undefined)
      if (!kept && before!.attributes[name] !== after!.attributes[name])
        this.patcher.set(staffDef, name, after!.attributes[name])
    }
    this.patcher.patchType(staffDef, before!, after!)
  }

  private putInVoice(draft: VoiceDraft, text: string): void {
    const layer = draft.layers.at(-1)
    const staff = draft.staves.at(-1)
    if (layer) this.edits.append(this.patcher.spanOf(layer), text)
    else if (staff)
      this.edits.append(
        this.patcher.spanOf(staff),
        this.patcher.text([newElement("layer", { n: 1 })]).replace("/>", `>${text}</layer>`),
      )
    else this.addStaff(`<staff n="${staffOf(draft)}"><layer n="1">${text}</layer></staff>`)
  }

  private addVoice(voice: Voice): void {
    const taken = this.drafts.map(staffOf)
    const largest = Math.max(0, ...taken.map(n => Number.parseInt(n, 10) || 0))
    const n = /^[1-9]\d*$/.test(voice.n) && !taken.includes(voice.n) ? voice.n : String(largest + 1)
    const definition = this.patcher.text([staffDefXml(this.runs.writer, voice, n)])
    const last = this.drafts.flatMap(draft => draft.definitions.slice(0, 1)).at(-1)
    if (last) this.edits.insert(this.patcher.spanOf(last).end, definition)
    this.addStaff(this.patcher.text([staffXml(this.runs.writer, voice, n, this.page)]))
  }

  /** After the last staff of all, or into the last section. */
  private addStaff(text: string): void {
    let last: XmlElement | undefined
    let section: XmlElement | undefined
    for (const element of elementsIn(this.traced.tree.root)) {
      if (element.localName === "staff") last = element
      if (element.localName === "section") section = element
    }
    if (last) this.edits.insert(this.patcher.spanOf(last).end, text)
    else if (section) this.edits.append(this.patcher.spanOf(section), text)
  }

  private patchAlternatives(): void {
    const wanted = new Map(this.page.alternatives.map(one => [one.id, one]))
    this.old.alternatives.forEach((old, index) => {
      const { element } = this.traced.reader.alternatives[index]!
      const now = wanted.get(old.id)
      if (now === old) return
      if (!now) this.removeReading(element)
      else this.patchReading(element, old, now)
    })
  }

  /** An app keeps its rdg, which then says that there is none. */
  private removeReading(element: XmlElement): void {
    this.patcher.remove(element)
    const empty = this.patcher.text([newElement("rdg", { type: NO_READING })])
    if (element.localName === "rdg") this.edits.insert(this.patcher.spanOf(element).end, empty)
  }

  private patchReading(
    element: XmlElement,
    old: Page["alternatives"][number],
    now: Page["alternatives"][number],
  ): void {
    const place: Place = {
      isContainer: one => one === element,
      put: text => this.edits.append(this.patcher.spanOf(element), text),
    }
    this.runs.patchRun(old.signs, now.signs, place)
    if (same(old.editorial, now.editorial)) return
    const [before, after] = [old, now].map(one => handAttributes(element.localName, one.editorial))
    for (const name of new Set([...Object.keys(before!), ...Object.keys(after!)]))
      if (name !== "xml:id" && name !== "type") this.patcher.set(element, name, after![name])
    this.patcher.patchType(element, newElement("rdg", before), newElement("rdg", after))
  }
}

/** The number by which the file knows a voice's staves. */
const staffOf = ({ definitions: [own], n }: VoiceDraft): string => (own && attribute(own, "n")) ?? n
