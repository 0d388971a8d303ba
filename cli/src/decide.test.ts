import { describe, expect, test } from "vitest"
import { folderWith, resolutio } from "./testing/program.js"

const PIECE = `title: Of our own making

voice cantus black practice=ars-nova
O B c4 S d e B f S g . a B b a S g
`
const { at, save, text } = folderWith({ "piece.figurae": PIECE })
const decide = (...args: string[]) => resolutio(args)
const piece = (...args: string[]) => decide("decide", at("piece.figurae"), ...args)

describe("decide", () => {
  test("lists what can be chosen at a place, numbered", async () => {
    const { out, status } = await piece("cantus 3")
    expect(out).toMatch(/^cantus 3: \d+ minims\. /)
    expect(out).toMatch(/Rivals \(--rival N\):\n {2}1 {2}\d+ {2}[a-z-]+ {2}/)
    expect(out).toMatch(/Other readings of cantus as a whole \(--voice-rival N\):\n {2}1 {2}cantus \d+: /)
    expect([0, 1]).toContain(status)
    expect(text("piece.figurae")).toBe(PIECE)
  })

  test("fixes a duration: says what changed and what the rules would have read, writes only where asked", async () => {
    const { out, err } = await piece("cantus 3", "--duration", "2", "--why", "as  before", "--who", "Ann É")
    expect(out).toContain(
      "Decided: decision-1: cantus 3: it lasts 2 minims; the rules would have read 4 (Ann É: as before).",
    )
    expect(out).toContain(
      "Read otherwise now:\n  cantus 3: 2 (was 4). An editor decided it: 2 minims. The rules would have read 4.",
    )
    expect(err).toContain("Nothing is written")
    await piece("cantus 3", "--duration", "2", "--why", "as before", "--who", "Ann É", "-o", at("new.figurae"))
    expect(text("piece.figurae")).toBe(PIECE)
    expect(text("new.figurae")).toContain('person editor-ann-e "Ann É"')
    expect(text("new.figurae")).toContain('decision on=1.4 duration=2 who=editor-ann-e why="as before"')
    const again = await piece("cantus 3", "--duration", "2", "-o", at("new.figurae"))
    expect(again.status).toBe(2)
    expect(again.err).toContain("--force")
  })

  test("chooses a rival, refuses a duration, decides on a dot", async () => {
    const list = await piece("cantus 3")
    const rival = /1 {2}(\d+) {2}/.exec(list.out.slice(list.out.indexOf("Rivals")))![1]
    expect((await piece("cantus 3", "--rival", "1")).out).toContain(`cantus 3: it lasts ${rival}`)
    const refused = await piece("cantus 1", "--not", "6", "--not", "9/2")
    expect(refused.out).toContain("cantus 1: it does not last 6 or 9/2 minims; the rules would have read 6")
    const dot = await piece("cantus 5", "--dot", "addition")
    expect(dot.out).toContain("the dot after cantus 5: it is a dot of addition")
  })

  test("chooses another reading of the voice, and takes it back as one", async () => {
    save("piece.figurae", "voice motetus black practice=ars-antiqua\nLo Bo Bo Bo Bo Bo Lo Bo Bo Bo Lo\n")
    const shown = (await piece("motetus 1")).out
    const number = /^ {2}(\d) {2}motetus \d: \d, motetus/m.exec(shown)![1]!
    const chosen = await piece("motetus 1", "--voice-rival", number, "-o", at("rival.figurae"))
    expect(chosen.out.match(/Decided:/g)!.length).toBeGreaterThan(1)
    const listed = await decide("decide", at("rival.figurae"), "--list")
    expect(listed.out).toContain("[motetus, another reading]")
    await decide("decide", at("rival.figurae"), "--undo", "motetus, another reading", "-o", at("back.figurae"))
    await decide("convert", at("piece.figurae"), "-o", at("plain.figurae"))
    expect(text("back.figurae")).toBe(text("plain.figurae"))
  })

  test("does not say of a sign that it has no rivals where another reading of its voice has it otherwise", async () => {
    const modus = "black practice=ars-nova\nmens:modusmaior=2:modus=3:tempus=2:prolatio=2\n"
    const page = `voice triplum ${modus}L a4 B g a b a g L a B g f L g\nvoice tenor ${modus}L d3 e c f g\n`
    save("open.figurae", page)
    const told = async (place: string) =>
      (await decide("decide", at("open.figurae"), place)).out.replaceAll(/\s+/g, " ")
    expect(await told("triplum 6")).toContain(
      "It has no rivals of its own: only as part of other readings of the whole voice (below, 1 and 2) would it last otherwise, 8; --duration fixes any length.",
    )
    expect(await told("triplum 4")).toContain("It has no rivals; --duration fixes any length.")
  })

  test("goes through MEI and back; listed, shown by read and explain, undone by number", async () => {
    await piece("cantus 3", "--duration", "2", "--who", "Ann", "--why", "x", "-o", at("new.mei"))
    expect((await decide("decide", at("new.mei"))).out).toBe(
      "1  decision-1: cantus 3: it lasts 2 minims; the rules would have read 4 (Ann: x)",
    )
    expect((await decide("read", at("new.mei"))).out).toContain("Decisions of the editor:\n  1  decision-1: cantus 3")
    expect((await decide("explain", at("new.mei"), "cantus 3")).out).toContain(
      "Decision decision-1: it lasts 2 minims (Ann: x).",
    )
    const object = JSON.parse((await decide("read", at("new.mei"), "--format", "json")).out)
    expect(object.voices[0].signs.find((sign: { place: string }) => sign.place === "cantus 3")).toMatchObject({
      duration: "2",
      decidedBy: "decision",
      rule: "decision",
      rulesSay: "4",
    })
    expect(object.decisions).toEqual([
      { id: "decision-1", sign: "1.4", place: "cantus 3", duration: "2", who: "Ann", why: "x" },
    ])
    const undone = await decide("decide", at("new.mei"), "--undo", "1", "-o", at("new.mei"), "--force")
    expect(undone.out).toContain("Taken back: decision-1")
    expect(text("new.mei")).not.toContain("<annot")
    expect((await decide("decide", at("new.mei"), "--list")).out).toBe("No decisions.")
  })

  test("a second duration for a sign takes the place of the first", async () => {
    await piece("cantus 3", "--duration", "2", "-o", at("a.figurae"))
    await decide("decide", at("a.figurae"), "cantus 3", "--duration", "3", "-o", at("b.figurae"))
    expect(text("b.figurae").match(/^decision .*$/gm)).toEqual(["decision on=1.4 duration=3"])
  })

  test.each([
    [["tenor 1", "--duration", "2"], "no sign “tenor 1”"],
    [["--duration", "2"], "which sign"],
    [["cantus 1", "--duration", "0"], "is no duration"],
    [["cantus 1", "--duration", "x"], "is no duration"],
    [["cantus 1", "--not", "-3"], "is no duration"],
    [["cantus 1", "--rival", "99"], "no rival 99"],
    [["cantus 1", "--rival", "constructor"], "no rival constructor"],
    [["cantus 1", "--voice-rival", "99"], "no other reading 99"],
    [["cantus 1", "--dot", "division"], "No dot follows"],
    [["cantus 5", "--dot", "full"], "cannot be one of “full”"],
    [["cantus 1", "--duration", "2", "--dot", "division"], "at once"],
    [["cantus 1", "--list", "--undo", "1"], "More than one"],
    [["--undo", "7"], "no decision “7”"],
    [["cantus 1", "-o", "x.figurae"], "nothing to write"],
    [["cantus 1", "--duration", "2", "-o", "x.txt"], "what to write"],
  ])("refuses %j and says how to mend it", async (args, what) => {
    const { status, err, out } = await piece(...args)
    expect([status, out]).toEqual([2, ""])
    expect(err).toContain(what)
    expect(err).toContain("To mend it:")
    expect(text("piece.figurae")).toBe(PIECE)
  })

  test("tells of a decision that cannot be kept", async () => {
    save("odd.figurae", `${PIECE}\ndecision on=9.9 duration=4\ndecision on=1.2 duration=1/1009\n`)
    const { status, err } = await decide("decide", at("odd.figurae"), "--list")
    expect(status).toBe(1)
    expect(err).toContain("“9.9”, which the page does not have")
    expect(err).toContain("cut finer than any note")
  })
})
