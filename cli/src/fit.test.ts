import { readFileSync } from "node:fs"
import { describe, expect, test } from "vitest"
import { folderWith, resolutio } from "./testing/program.js"

const piece = (fifth: string) => `title: Of our own making

voice cantus white practice=white
clef:C1 C
B g4 S b c5 ${fifth} B b4 S c5 g d c c c B b4 S g g a c5 c b4 c5 c B c S b4 a B b L c5

voice tenor white practice=white
clef:C4 C
B c4 S d e f e B d S e c g g f e B d S c b3 c4 e f d e f B e S d c B d L c
`
const SLIP = piece("c M c")
const folder = folderWith({ "slip.figurae": SLIP, "sound.figurae": piece("c c") })
const { at, text } = folder
const fit = (...args: string[]) => resolutio(["fit", at("slip.figurae"), ...args])

describe("fit", () => {
  test("a sound piece: the voices meet, nothing is proposed, status 0", async () => {
    const { out, status } = await resolutio(["fit", at("sound.figurae")])
    expect(out).toContain("The voices meet at their finals.\nNothing speaks for a slip.")
    expect(status).toBe(0)
  })

  test("a slip: where the voices part, what stands there, what would mend it, how sure that is; status 1", async () => {
    const { out, status } = await fit()
    expect(out).toMatch(/They first part about \d+ minims from the beginning \(.*\d+ % sure within three signs\)\./)
    expect(out).toMatch(/\n {2}1 {2}cantus 5: minima c5 → semibrevis c5 {2}\(stem-dropped, \d+ %\)\n/)
    expect(out).toContain("The voices meet at their finals again.")
    expect(status).toBe(1)
    expect(text("slip.figurae")).toBe(SLIP)
  })

  test("a sign drawn for another: the notes that contradict it are told, the right sign mends it", async () => {
    const ballade = readFileSync(new URL("../../demo/9-ballade.figurae", import.meta.url), "utf8")
    folder.save("sign.figurae", ballade.replace("clef:C2 O", "clef:C2 C"))
    const { out, err: said } = await resolutio(["fit", at("sign.figurae")])
    expect(said).toBe("")
    expect(out).toMatch(/The notes of cantus contradict its declared imperfect tempus: breves at/)
    expect(out).toMatch(
      /1 {2}cantus 1: the half circle before brevis a4 → the circle before brevis a4 {2}\(mensuration-missing/,
    )
    const { err } = await resolutio(["fit", at("sign.figurae"), "--apply", "1", "-o", at("sign.mei")])
    expect(err).toContain("the source has the half circle")
    const back = await resolutio(["read", at("sign.mei")])
    expect(back.out).toContain("The voices meet at their finals.")
    expect(back.status).toBe(0)
  })

  test("as JSON, by the contract", async () => {
    const { out } = await fit("--format", "json")
    const { format, version, together, firstParting, emendations } = JSON.parse(out)
    expect({ format, version, together }).toEqual({ format: "resolutio-fit", version: 1, together: false })
    expect(Object.keys(firstParting)).toEqual(["onset", "signs", "certainty"])
    const contract = ["rank", "kind", "sign", "voice", "place", "before", "after", "why", "score"]
    expect(Object.keys(emendations[0])).toEqual(expect.arrayContaining(contract))
    expect(emendations[0]).toMatchObject({ rank: 1, kind: "stem-dropped", sign: "1.7", voice: "1", place: "cantus 5" })
  })

  test("--apply writes a new file with the editor's decision in it, and a line for the critical report", async () => {
    const { err, out } = await fit("--apply", "1", "-o", at("new.figurae"), "--who", "Ann É", "--why", "so  the tenor")
    expect(text("slip.figurae")).toBe(SLIP)
    expect(text("new.figurae")).toContain('c5 c c:corr(resp=editor-ann-e reason="so the tenor") B b4')
    expect(text("new.figurae")).toContain('person editor-ann-e "Ann É"')
    expect(text("new.figurae")).toMatch(/alternative sic for=1\.7 .*\nM c5/)
    expect(err).toContain("cantus 5: the source has minima c5; here semibrevis c5 (so the tenor)")
    expect(out).toBe("Emended: The voices meet at their finals.")
    const again = await resolutio(["fit", at("new.figurae")])
    expect(again.out).toContain("The voices meet at their finals.")
    expect((await fit("--apply", "1", "-o", at("new.figurae"))).err).toContain("--force")
  })

  test("the same in MEI", async () => {
    await fit("--apply", "1", "-o", at("new.mei"), "--who", "Ann")
    expect(text("new.mei")).toMatch(/<choice>\s*<sic[^>]*>\s*<note[^>]*dur="minima"[\s\S]*<corr[^>]*resp="#editor-ann"/)
  })

  test.each<[args: string[], told: RegExp]>([
    [["--apply", "1"], /--apply: An emendation is written to a new file only\.[\s\S]*-o/],
    [["--apply", "99", "-o", "x.figurae"], /no emendation “99”[\s\S]*1 to \d/],
    [["--apply", "one", "-o", "x.figurae"], /no emendation “one”/],
    [["--apply", "1", "-o", "x.pdf"], /x\.pdf/],
    [["-o", "x.figurae"], /No emendation is chosen/],
    [["--who", "Ann"], /No emendation is chosen/],
    [["--alone"], /cannot be held against each other/],
  ])("%j is refused in a sentence, status 2", async (args, told) => {
    const { err, status } = await fit(...args.map(arg => (arg.startsWith("x.") ? at(arg) : arg)))
    expect(err).toMatch(told)
    expect(status).toBe(2)
  })

  test.each([40, 80])("no line is wider than a terminal of %i", async width => {
    const { out } = await resolutio(["fit", at("slip.figurae")], width)
    expect(Math.max(...out.split("\n").map(line => line.length))).toBeLessThanOrEqual(width)
  })
})
