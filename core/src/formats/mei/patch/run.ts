/** A run of signs (a voice, a ligature, a reading that was not chosen) brought from what it was to what it is. */
import type { Editorial, Ligature, Mark, Sign } from "../../../page/index.js"
import { element as newElement, type XmlElement as NewElement } from "../../xml.js"
import { pointer, type Source } from "../read/reader.js"
import { isName } from "../tokens.js"
import { handAttributes, handXml, bareSignXml, pointingMarkXml, runXml } from "../write/signs.js"
import type { Writer } from "../write/writer.js"
import { isNoReading } from "../read/editorial.js"
import { childrenOf, type XmlElement, type XmlNode } from "../xml.js"
import { difference, same, type Difference } from "../../../page/index.js"
import type { ElementPatcher } from "./element.js"
import type { Origins } from "./origins.js"

/** Where a run's elements stand. */
export interface Place {
  /** The element whose children (or their children, through an editor's elements) are the signs. */
  readonly isContainer: (element: XmlElement) => boolean
  /** Puts new elements at the end of an empty run. */
  readonly put: (text: string) => void
  /** For signs that belong in the definition of the voice; undefined when it has none. */
  readonly putInitial?: (sign: Sign) => void
}

export class RunPatcher {
  constructor(
    readonly patcher: ElementPatcher,
    readonly origins: Origins,
    /** Writes signs as they would stand in a new file. */
    readonly writer: Writer,
    /** The same, but without ids: to compare how a sign was with how it is. */
    readonly plain: Writer,
    /** Signs to be written anew although they stayed. */
    readonly rewritten: ReadonlySet<string>,
  ) {}

  patchRun(before: readonly Sign[], after: readonly Sign[], place: Place): void {
    if (before === after) return
    const movable = before.filter(sign => !this.origins.dissolved.has(sign.id) && !this.rewritten.has(sign.id))
    const found = this.withMarksThatMoved(difference(movable, after))
    for (const sign of before)
      if (this.rewritten.has(sign.id) && !this.origins.dissolved.has(sign.id)) this.remove(sign)
    for (const sign of found.gone) this.remove(sign)
    const oldEnds = bodyEnds(before)
    const newEnds = bodyEnds(after)
    for (const { sign, old } of found.now) if (old) this.patchSign(old, sign, oldEnds.has(old), newEnds.has(sign))
    this.insertNew(found, place)
  }

  private remove(sign: Sign): void {
    const source = this.origins.of(sign)
    if (!source || source.attributes !== undefined) return
    this.patcher.remove(source.element)
    if (source.also) this.patcher.remove(source.also)
  }

  /** A mark that points to its sign goes with it; when another sign follows it now, it points there. */
  private withMarksThatMoved(found: Difference): Difference {
    const gone: Sign[] = [...found.gone]
    const now = [...found.now]
    // From the end, so that what now must stand in the layer is there to be pointed to.
    for (let i = now.length - 1; i >= 0; i--) {
      const { sign, old } = now[i]!
      if (!old || !this.pointsElsewhere(old)) continue
      const next = now.slice(i + 1).find(one => !(one.old && this.pointsElsewhere(one.old)))?.sign
      if (sign.kind === "mark" && !sign.editorial && this.pointedTo(this.origins.of(old)!.element, next)) continue
      gone.push(old)
      now[i] = { sign }
    }
    return { gone, now }
  }

  /** True when the mark's element points to the sign after it, or can be made to. */
  private pointedTo(element: XmlElement, next: Sign | undefined): boolean {
    const startid = pointer(element, "startid") ?? pointer(element, "plist")
    if (startid === undefined || (next && pointsTo(startid, next))) return true
    if (!next || !isName(next.id)) return false
    this.patcher.set(element, "startid", `#${next.id}`)
    return true
  }

  /** A mark that stands outside the run and points into it. */
  private pointsElsewhere(old: Sign): boolean {
    return old.kind === "mark" && this.origins.of(old)?.element.localName === "dir"
  }

  private patchSign(old: Sign, sign: Sign, oldEnd: boolean, newEnd: boolean): void {
    const source = this.origins.of(old)
    if (!source || (old === sign && oldEnd === newEnd) || (same(old, sign) && oldEnd === newEnd)) return
    if (source.attributes !== undefined) return this.patchHeading(source, sign)
    if (sign.kind === "ligature" && old.kind === "ligature") this.patchMembers(source, old, sign)
    const [before] = this.elementsOf(old, oldEnd, source)
    const [after, ...more] = this.elementsOf(sign, newEnd, source)
    if (sign.kind !== old.kind) this.replaceWhole(source, sign, newEnd)
    else {
      this.patcher.patch(source.element, old, sign, before!, after!)
      this.patchFigures(source, old, sign, more)
    }
    this.patchHand(source, old.editorial, sign.editorial)
  }

  /** Of a section or an ending only the heading can change. */
  private patchHeading(source: Source, sign: Sign): void {
    if (sign.kind === "mark") this.patcher.set(source.element, "label", sign.text)
  }

  private elementsOf(sign: Sign, end: boolean, source: Source): NewElement[] {
    if (sign.kind === "mark" && source.element.localName === "dir") {
      const pointing = pointingMarkXml(this.plain, sign as Mark, "")
      const { startid: _, place: __, ...attributes } = pointing.attributes
      return [{ ...pointing, attributes, children: sign.text === undefined ? [] : [sign.text] }]
    }
    return bareSignXml(this.plain, sign, end)
  }

  private replaceWhole(source: Source, sign: Sign, end: boolean): void {
    const span = this.patcher.spanOf(source.element)
    this.patcher.edits.exchange(span.start, span.end, this.patcher.text(bareSignXml(this.writer, sign, end)))
    if (source.also) this.patcher.remove(source.also)
  }

  private patchFigures(source: Source, old: Sign, sign: Sign, more: readonly NewElement[]): void {
    if (old.kind !== "mensuration" || sign.kind !== "mensuration" || same(old.figures, sign.figures)) return
    if (source.also) this.patcher.remove(source.also)
    this.patcher.edits.insert(this.patcher.spanOf(source.element).end, this.patcher.text(more))
  }

  private patchMembers(source: Source, old: Ligature, sign: Ligature): void {
    this.patchRun(old.members, sign.members, {
      isContainer: element => element === source.element,
      put: text => this.patcher.edits.append(this.patcher.spanOf(source.element), text),
    })
  }

  /** The editor's element around one sign is changed, taken off or put on; one around several is left to the others. */
  private patchHand(source: Source, old: Editorial | undefined, hand: Editorial | undefined): void {
    if (same(old, hand)) return
    const { edits } = this.patcher
    const around = old && handAlone(source, old.kind)
    if (around && hand?.kind === old.kind) {
      const [before, after] = [old, hand].map(one => handAttributes(one.kind, one))
      for (const name of new Set([...Object.keys(before!), ...Object.keys(after!)]))
        if (name !== "xml:id") this.patcher.set(around.hand, name, after![name])
      return
    }
    const span = this.patcher.spanOf(around?.shell ?? source.element)
    if (around) {
      const inner = this.patcher.spanOf(around.hand)
      edits.remove(span.start, inner.opened)
      edits.remove(inner.close, span.end)
    }
    if (!hand) return
    const [open, close] = this.patcher.text([handXml(hand, [newElement("HERE")])]).split(/<(?:[^\s:>]+:)?HERE\/>/)
    const last = around ? span : this.patcher.spanOf(source.also ?? source.element)
    edits.wrap(span.start, last.end, open ?? "", close ?? "")
  }

  private insertNew(found: Difference, place: Place): void {
    const { now } = found
    for (let i = 0; i < now.length; i++) {
      if (now[i]!.old) continue
      let end = i
      while (end < now.length && !now[end]!.old) end++
      const fresh = now.slice(i, end).map(one => one.sign)
      const initial = fresh.filter(sign => "initial" in sign && sign.initial === true && place.putInitial)
      for (const sign of initial) place.putInitial!(sign)
      const inRun = fresh.filter(sign => !initial.includes(sign))
      if (inRun.length > 0) this.insertBetween(now.slice(0, i), inRun, now.slice(end), place)
      i = end - 1
    }
  }

  private insertBetween(
    before: Difference["now"],
    fresh: readonly Sign[],
    after: Difference["now"],
    place: Place,
  ): void {
    const previous = this.nearest(before.toReversed(), place)
    const next = this.nearest(after, place)
    const text = this.patcher.text(runXml(this.writer, fresh))
    if (previous) {
      const from = topBelow(previous.also ?? previous.element, place, next?.element)
      this.patcher.edits.insert(this.patcher.spanOf(from).end, text)
    } else if (next) this.patcher.edits.insert(this.patcher.spanOf(topBelow(next.element, place)).start, text)
    else place.put(text)
  }

  /** Where the first of these signs that stands in the run itself is written. */
  private nearest(entries: Difference["now"], place: Place): Source | undefined {
    for (const { old } of entries) {
      const source = old && this.origins.of(old)
      if (source && isWithin(source.element, place)) return source
    }
    return undefined
  }
}

/** Notes on which an oblique body ends. */
function bodyEnds(signs: readonly Sign[]): Set<Sign> {
  return new Set(
    signs.filter((sign, i) => {
      const before = signs[i - 1]
      return sign.kind === "note" && before?.kind === "note" && before.oblique === true
    }),
  )
}

function pointsTo(startid: string, sign: Sign): boolean {
  return sign.id === startid || (sign.kind === "ligature" && sign.members.some(member => member.id === startid))
}

/**
 * The editor's element of this kind, when the sign's element is all that it holds; with the app around it that has no
 * other reading. Undefined where the sign shares it, or is one reading among several.
 */
function handAlone(
  { element, also }: Source,
  kind: Editorial["kind"],
): { hand: XmlElement; shell: XmlElement } | undefined {
  const hand = element.parentNode as XmlElement | null
  if (!hand || hand.localName !== kind || childrenOf(hand).length > (also ? 2 : 1)) return undefined
  const outer = hand.parentNode as XmlElement
  if (outer.localName !== "app" && outer.localName !== "choice") return { hand, shell: hand }
  const others = childrenOf(outer).filter(one => one !== hand)
  return others.every(isNoReading) ? { hand, shell: outer } : undefined
}

function isWithin(element: XmlElement, place: Place): boolean {
  for (let node: XmlNode | null = element.parentNode; node; node = node.parentNode)
    if (node.nodeType === 1 && place.isContainer(node as XmlElement)) return true
  return false
}

/** The outermost element around this one, within the run, that does not hold `other` too. */
function topBelow(element: XmlElement, place: Place, other?: XmlElement): XmlElement {
  const around = new Set<XmlNode>()
  for (let node: XmlNode | null = other ?? null; node; node = node.parentNode) around.add(node)
  let top = element
  for (let node = element.parentNode; node && node.nodeType === 1; node = node.parentNode) {
    if (place.isContainer(node as XmlElement) || around.has(node)) break
    top = node as XmlElement
  }
  return top
}
