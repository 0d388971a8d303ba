/** Laws of kept content: what the page does not know comes out as it went in. */
import { DOMParser } from "@xmldom/xmldom"
import * as fc from "fast-check"
import { describe, expect, it } from "vitest"
import { mustWork } from "../../base/testing/must-work.js"
import { signId } from "../../base/index.js"
import { applyChange, type Page, type PageChange, type Sign, type Voice } from "../../page/index.js"
import { randomPage } from "../../page/testing/random-page.js"
import { newMei, readMei, withPage, writeMei } from "./index.js"
import { isElement, type XmlNode } from "./xml.js"
import { runs } from "../../base/testing/runs.js"

const open = (text: string) => mustWork(readMei(text))

/** Elements, attributes, comments and instructions that no schema knows, at places drawn by `picks`. */
function decorated(text: string, picks: readonly number[]): string {
  let turn = 0
  const pick = () => picks[turn++ % picks.length]!
  const between = [
    "",
    "",
    "<!-- a note to self -->",
    '<x:thing x:a="1">kept <x:b/></x:thing>',
    "<?keep this?>",
    "\n\n  ",
  ]
  return text
    .replace("<mei ", '<mei xmlns:x="urn:example:kept" ')
    .replace(/<(note|rest|layer|ligature|staffDef|dot|clef|mensur|staff)(?=[\s/>])/g, found =>
      pick() % 3 === 0 ? `${found} x:mine='say "yes" &amp; no'` : found,
    )
    .replace(/(?<=<(?:section|layer)[^>]*[^/]>)\n|\/>\n/g, found =>
      found.replace("\n", `${between[pick() % between.length]}\n`),
    )
}

/** Canonical text of a document without the signs named, and without what points to them. */
function outside(text: string, touched: ReadonlySet<string>): string {
  const parser = new DOMParser({ onError: (level: string, message: string) => expect(`${level} ${message}`).toBe("") })
  return canonical(parser.parseFromString(text, "text/xml") as unknown as XmlNode, touched)
}

function canonical(node: XmlNode, touched: ReadonlySet<string>): string {
  if (!isElement(node) && node.nodeType !== 9)
    return node.nodeType === 1 ? "" : `[${node.nodeType} ${node.nodeName}: ${node.nodeValue}]`
  if (isElement(node) && touched.has(node.getAttribute("xml:id") ?? "")) return ""
  let inner = ""
  for (let child = node.firstChild; child; child = child.nextSibling) inner += canonical(child, touched)
  // Text nodes that stood on either side of an edited element are one text.
  inner = inner.replaceAll("][3 #text: ", "")
  if (!isElement(node)) return inner
  const attributes: string[] = []
  for (let i = 0; i < node.attributes.length; i++) {
    const { name, value } = node.attributes.item(i)!
    if (!(name === "startid" && node.localName === "dir")) attributes.push(` ${name}=${JSON.stringify(value)}`)
  }
  return `<${node.nodeName}${attributes.sort().join("")}>${inner}</>`
}

const picks = fc.array(fc.nat(99), { minLength: 20, maxLength: 40 })

/** Marks that point to the sign, and so go along when it does. */
function marksBefore({ signs }: Voice, sign: Sign): string[] {
  const ids: string[] = []
  for (let i = signs.indexOf(sign) - 1; signs[i]?.kind === "mark"; i--) ids.push(signs[i]!.id)
  return ids
}

/** Decisions on the sign, which are taken back when it goes. */
function decisionsOn({ decisions = [] }: Page, { id }: Sign): string[] {
  return decisions.filter(one => one.sign === id).map(one => one.id)
}

/** A change of a note or rest that stands in no ligature, and the ids it is about. */
function simpleChange(page: Page, kind: number, at: number): { change: PageChange; touched: string[] } | undefined {
  const all = page.voices.flatMap(voice => voice.signs.map(sign => ({ voice, sign })))
  const figurae = all.filter(({ sign }) => sign.kind === "note" || sign.kind === "rest")
  const bound = new Set(page.alternatives.flatMap(one => one.insteadOf))
  const free = figurae.filter(({ sign }) => !bound.has(sign.id))
  const chosen = free[at % Math.max(free.length, 1)]
  if (!chosen) return undefined
  const { voice, sign } = chosen
  const fresh: Sign = {
    kind: "note",
    id: signId("fresh"),
    level: "minima",
    coloration: "none",
    stems: [],
    syllables: [],
  }
  if (kind === 0)
    return {
      change: { kind: "delete-sign", sign: sign.id },
      touched: [...marksBefore(voice, sign), sign.id, ...decisionsOn(page, sign)],
    }
  if (kind === 1)
    return {
      change: { kind: "insert-sign", voice: voice.id, before: sign.id, sign: fresh },
      touched: [...marksBefore(voice, sign), "fresh"],
    }
  const changed = sign.kind === "note" ? { ...sign, pitch: { step: "f" as const, octave: 1 } } : { ...sign, loc: 77 }
  return { change: { kind: "replace-sign", sign: changed }, touched: [...marksBefore(voice, sign), sign.id] }
}

describe("kept content", () => {
  it(
    "that is not understood does not change what is read, and an unedited file comes back byte for byte",
    () => {
      fc.assert(
        fc.property(randomPage(), picks, (page, drawn) => {
          const text = decorated(newMei(page), drawn)
          const document = open(text)
          expect(document.page).toEqual(page)
          expect(writeMei(document)).toBe(text)
          expect(writeMei(withPage(document, document.page))).toBe(text)
        }),
        { numRuns: runs(60) },
      )
    },
    runs(60_000),
  )

  it(
    "stays as it was outside an edit",
    () => {
      fc.assert(
        fc.property(randomPage(), picks, fc.nat(2), fc.nat(), (page, drawn, kind, at) => {
          const made = simpleChange(page, kind, at)
          fc.pre(made !== undefined)
          const text = decorated(newMei(page), drawn)
          const document = open(text)
          const result = applyChange(document.page, made!.change)
          if (!result.ok) throw new Error("not applied")
          const written = writeMei(withPage(document, result.value.page))
          expect(written).not.toBe(text)
          const touched = new Set(made!.touched)
          expect(outside(written, touched)).toBe(outside(text, touched))
          const again = open(written).page
          expect(again.voices.map(voice => voice.signs)).toEqual(result.value.page.voices.map(voice => voice.signs))
        }),
        { numRuns: runs(60) },
      )
    },
    runs(60_000),
  )

  it("keeps unknown attributes, children and comments of the very note that is edited", () => {
    const text = FOUR.replace('<note xml:id="b"', '<note my="1" xml:id="b"').replace("<!--in-->", "<!-- in --><foo/>")
    const document = open(text)
    const note = document.page.voices[0]!.signs.find(sign => sign.id === "b")!
    const result = applyChange(document.page, {
      kind: "replace-sign",
      sign: { ...note, level: "longa", accidental: "s" } as Sign,
    })
    if (!result.ok) throw new Error("not applied")
    const written = writeMei(withPage(document, result.value.page))
    expect(written).toBe(
      text
        .replace(
          '<note my="1" xml:id="b" dur="brevis" pname="c" oct="4">',
          '<note my="1" xml:id="b" dur="longa" pname="c" oct="4" accid="s">',
        )
        .replace('<accid accid="f"/>', ""),
    )
    expect(open(written).version).toBe("4.0.0")
  })

  it("changes a signature that two staves inherit only for the one that is edited", () => {
    const document = open(FOUR)
    const [first, second] = document.page.voices
    const signature = first!.signs.find(sign => sign.kind === "signature")!
    const result = applyChange(document.page, { kind: "delete-sign", sign: signature.id })
    if (!result.ok) throw new Error("not applied")
    const again = open(writeMei(withPage(document, result.value.page))).page
    expect(again.voices[0]!.signs.map(sign => sign.kind)).not.toContain("signature")
    expect(again.voices[1]!.signs.map(withoutId)).toEqual(second!.signs.map(withoutId))
  })

  it("takes a break that several staves share out of one of them", () => {
    const document = open(FOUR)
    const found = document.page.voices[1]!.signs.find(sign => sign.kind === "break")!
    const result = applyChange(document.page, { kind: "delete-sign", sign: found.id })
    if (!result.ok) throw new Error("not applied")
    const again = open(writeMei(withPage(document, result.value.page))).page
    expect(again.voices.map(voice => voice.signs.filter(sign => sign.kind === "break").length)).toEqual([1, 0])
    expect(again.voices[0]!.signs.map(sign => sign.kind)).toEqual(document.page.voices[0]!.signs.map(sign => sign.kind))
  })
})

function withoutId({ id: _, ...sign }: Sign): object {
  return sign
}
const FOUR = `<?xml version="1.0"?>
<mei xmlns="http://www.music-encoding.org/ns/mei" meiversion="4.0.0"><music><body><mdiv><score>
  <scoreDef key.sig="1f"><staffGrp>
    <staffDef n="1" lines="5" notationtype="mensural.white" clef.shape="C" clef.line="1" mensur.sign="C"/>
    <staffDef n="2" lines="5" notationtype="mensural.white" clef.shape="C" clef.line="4" mensur.sign="C"/>
  </staffGrp></scoreDef>
  <section><pb n="2v"/>
    <measure><staff n="1"><layer><note xml:id="a" dur="minima" dots="1" pname="d" oct="4"/>
      <note xml:id="b" dur="brevis" pname="c" oct="4"><accid accid="f"/><!--in--></note></layer></staff>
      <staff n="2"><layer><rest dur="brevis"/></layer></staff></measure>
  </section></score></mdiv></body></music></mei>
`
