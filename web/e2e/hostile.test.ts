/** Whatever comes in through a door is text: nothing of it runs, nothing breaks, nothing that was there is lost. */
import { readMei } from "@resolutio/core"
import { describe, expect, test } from "vitest"
import { POLICY } from "../build/policy.js"
import { hasBrowser, settled, windows, type Opened } from "./testing/window.js"

const SCRIPT = `<img src=x onerror="globalThis.ran=1"><script>globalThis.ran=1</script>`
const SHORTHAND = `title: ${SCRIPT}
person ed "${SCRIPT.replaceAll('"', '\\"')}"
voice "${SCRIPT.replaceAll('"', '\\"')}" black practice=ars-nova
clef:C1 O B c5 S d:id="x\\" onload=\\"globalThis.ran=1" B e text:"${SCRIPT.replaceAll('"', '\\"')}" B f . S g B a B g
> "${SCRIPT.replaceAll('"', '\\"')}" </text><script>globalThis.ran=1</script> a
voice workbench black practice=ars-nova
clef:C4 O B c4:id=workbench c:id=__proto__ c:id=constructor c c B c`

const MEI = `<?xml version="1.0"?><?xml-stylesheet href="javascript:globalThis.ran=1"?>
<mei xmlns="http://www.music-encoding.org/ns/mei" xmlns:h="http://www.w3.org/1999/xhtml" meiversion="5.1">
<meiHead><fileDesc><titleStmt><title>&lt;script&gt;globalThis.ran=1&lt;/script&gt;</title></titleStmt><pubStmt/></fileDesc></meiHead>
<music><h:script>globalThis.ran=1</h:script><body><mdiv><score><scoreDef><staffGrp>
<staffDef n="1" lines="5" notationtype="mensural.black" label="&lt;svg onload=globalThis.ran=1&gt;" clef.shape="C" clef.line="1"/></staffGrp></scoreDef>
<section><staff n="1"><layer n="1"><note xml:id="a" dur="brevis" pname="c" oct="5"><verse n="1"><syl>&lt;img src=x onerror=globalThis.ran=1&gt;</syl></verse></note>
<note dur="brevis" pname="d" oct="5"/></layer></staff></section></score></mdiv></body></music></mei>`

/** Texts that are no page at all. */
const BROKEN: readonly (readonly [name: string, text: string])[] = [
  ["a.mei", `<!DOCTYPE mei [<!ENTITY a "x"><!ENTITY b "&a;&a;">]><mei>&b;</mei>`],
  ["b.mei", "<mei".repeat(10_000)],
  ["c.mei", "<a>".repeat(50_000)],
  ["d.figurae", "]".repeat(20_000)],
  ["e.figurae", "voice a\n" + "B c4 ".repeat(10) + "\u0000\u202e"],
  ["f.png", "\u0089PNG\r\n\u001a\n<script>globalThis.ran=1</script>"],
  ["g.svg", `<svg xmlns="http://www.w3.org/2000/svg" onload="globalThis.ran=1"/>`],
  ["h.figurae", ""],
]

describe.skipIf(!hasBrowser)("hostile input", () => {
  const all = windows()
  const ran = ({ page }: Opened): Promise<unknown> => page.evaluate(() => (globalThis as { ran?: unknown }).ran)
  async function give({ page }: Opened, name: string, text: string): Promise<void> {
    if ((await page.getByRole("region", { name: "Open", exact: true }).count()) === 0) await page.keyboard.press("o")
    await page.locator("input[type=file]").setInputFiles({ name, mimeType: "text/plain", buffer: Buffer.from(text) })
  }

  test.each([
    ["shorthand", "hostile.figurae", SHORTHAND],
    ["MEI", "hostile.mei", MEI],
  ])("markup in titles, names, syllables, ids of %s is shown as text in every band", async (_, name, text) => {
    const opened = await all.shared()
    const { page } = opened
    await give(opened, name, text)
    await page.locator("h1").filter({ hasText: "script" }).waitFor()
    await settled(opened)
    await page.keyboard.press("1")
    for (let i = 0; i < 4; i++) await page.keyboard.press("ArrowRight")
    for (const key of ["l", "m", "t", "p", "r", "q", "Escape", "d", "Escape"]) await page.keyboard.press(key)
    await page.keyboard.press("3")
    await page.locator("section.edition .notehead").first().waitFor({ timeout: 60_000 })
    await page.keyboard.press("o")
    await page.getByRole("region", { name: "Open", exact: true }).waitFor()
    expect(await ran(opened)).toBeUndefined()
    expect(await page.locator("img, script:not([src]), iframe, object, embed").count()).toBe(0)
    expect(opened.complaints).toEqual([])
  })

  test("what is no page is refused in a sentence, and the piece that was open stays", async () => {
    const opened = await all.shared()
    const { page } = opened
    for (const [name, text] of BROKEN) {
      await give(opened, name, text)
      const title = page.getByRole("heading", { level: 1 })
      await page.waitForTimeout(400)
      const said = (await page.getByRole("status").first().textContent()) ?? ""
      // a text that can be read with problems becomes a piece; anything else is told and changes nothing
      expect(said.length + ((await title.textContent()) ?? "").length).toBeGreaterThan(0)
    }
    expect(await ran(opened)).toBeUndefined()
    await page.keyboard.press("Escape")
    expect(opened.complaints).toEqual([])
  })

  test("references in XML are read as by the library outside the browser, where the tables of HTML's are not left out", async () => {
    const opened = await all.shared()
    const { page } = opened
    const titled = (title: string): string => MEI.replace(/<title>.*<\/title>/, `<title>${title}</title>`)
    const right = titled("A &amp; B &lt;C&gt; caf&#233; &#xE9; &apos;x&quot;")
    const inNode = readMei(right)
    if (!inNode.ok) throw new Error("it can be read")
    expect(inNode.value.page.title).toBe("A & B <C> café é 'x\"")
    await give(opened, "right.mei", right)
    await page.getByRole("heading", { level: 1, name: inNode.value.page.title }).waitFor()
    await settled(opened)
    // XML 1.0, fifth edition, 4.1: a name that is not declared is a fault, also where HTML knows it
    const wrong = titled("caf&eacute;")
    const refused = readMei(wrong)
    if (refused.ok) throw new Error("it cannot be read")
    await give(opened, "wrong.mei", wrong)
    await page.getByText(refused.problems[0]!.what).first().waitFor()
    expect(await page.getByRole("heading", { level: 1 }).textContent()).toContain("A & B")
    expect(opened.complaints).toEqual([])
  })

  test("the policy is in force: no script, style, picture or connection of anyone else", async () => {
    const opened = await all.open()
    const { page } = opened
    await settled(opened)
    const policy = await page.locator("meta[http-equiv='Content-Security-Policy']").getAttribute("content")
    expect(policy).toBe(
      Object.entries(POLICY)
        .map(([name, value]) => `${name} ${value}`)
        .join("; "),
    )
    const refused = await page.evaluate(async () => {
      const found: string[] = []
      document.addEventListener("securitypolicyviolation", event => found.push(event.effectiveDirective))
      const script = document.createElement("script")
      try {
        script.textContent = "globalThis.ran = 1"
      } catch {
        found.push("trusted types")
      }
      document.head.append(script)
      const style = document.createElement("style")
      style.textContent = "* { color: red }"
      document.head.append(style)
      await fetch("https://example.org/").catch(() => undefined)
      const picture = new Image()
      picture.src = "https://example.org/a.png"
      document.body.append(picture)
      try {
        document.body.insertAdjacentHTML("beforeend", "<b>x</b>")
      } catch {
        found.push("trusted types")
      }
      await new Promise(done => setTimeout(done, 300))
      return found
    })
    for (const one of ["style-src-elem", "connect-src", "img-src", "trusted types"]) expect(refused).toContain(one)
    expect(await ran(opened)).toBeUndefined()
  })

  test("a file dropped on the window is opened, whatever is dropped besides", async () => {
    const opened = await all.shared()
    const { page } = opened
    await page.evaluate(text => {
      const data = new DataTransfer()
      data.items.add(new File([text], "dropped.figurae"))
      document.querySelector("main")!.dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true }))
    }, "title: Dropped\nvoice tenor black practice=ars-nova\nclef:C4 O B c4 d e")
    await page.locator("h1").filter({ hasText: "Dropped" }).waitFor()
    await page.evaluate(() => {
      const data = new DataTransfer()
      data.setData("text/html", "<img src=x onerror='globalThis.ran=1'>")
      document.querySelector("main")!.dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true }))
    })
    expect(await ran(opened)).toBeUndefined()
    expect(opened.complaints).toEqual([])
  })
})
