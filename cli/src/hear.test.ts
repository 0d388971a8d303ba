/** `resolutio hear`: names, parts, voices, refusals, and that a file is whole or not there. Sounds are measured in docs/sound.test.ts. */
import { spawn } from "node:child_process"
import { existsSync, readdirSync, readFileSync, statSync } from "node:fs"
import { fileURLToPath } from "node:url"
import { afterEach, describe, expect, test } from "vitest"
import { run } from "./program.js"
import { folderWith, resolutio } from "./testing/program.js"

const PIECE = `title: Two voices (invented)

voice cantus white practice=white
C S c4 d4 e4 f4 B g4 L c4

voice tenor white practice=white
C B c3 d3 e3 L c3
`
const folder = folderWith({ "piece.figurae": PIECE })
const { at, text } = folder
const hear = (...args: string[]) =>
  resolutio(["hear", at("piece.figurae"), "-o", at("piece.wav"), "--sound", "tone", ...args])
/** Beats of a second; no held final. */
const SLOW = ["--tempo", "semibrevis=120", "--final", "0"]
/** What rings on after the last tone. */
const RING = 0.5
const seconds = (name: string) => (statSync(at(name)).size - 44) / 4 / 44_100
const files = () => readdirSync(folder.path).sort()

describe("files", () => {
  test("all voices in one, and what was chosen is said", async () => {
    const { status, err } = await hear()
    expect(status).toBe(0)
    expect(files()).toEqual(["piece.figurae", "piece.wav"])
    expect(err).toContain("Written: ")
    expect(err).toContain("Begin with the volume low")
    expect(err).toContain("an editor's estimate and no fact")
    expect(err).toContain("quarter-comma meantone (pure major thirds): an editor's default")
  })
  test.each(["each", "practice"])("%s: one for every voice that is heard, equally long", async which => {
    await hear("--files", which)
    expect(files()).toEqual(["piece-1-cantus.wav", "piece-2-tenor.wav", "piece.figurae"])
    expect(seconds("piece-1-cantus.wav")).toBe(seconds("piece-2-tenor.wav"))
    const muted = await hear("--files", which, "--mute", "tenor", "--force")
    expect(muted.err).not.toContain("tenor")
  })
  test("speed, part, loop and count make it as long as they must", async () => {
    // Eight breves of a second each; the last long takes two of them.
    const lengths: [string[], number][] = [
      [[], 5],
      [["--speed", "50%"], 10],
      [["--from", "4", "--to", "8"], 1],
      [["--from", "cantus 3", "--to", "cantus 4"], 1],
      [["--to", "4", "--loop", "3"], 3],
      [["--to", "4", "--count-in", "4"], 3],
    ]
    for (const [args, expected] of lengths) {
      await hear(...SLOW, ...args, "--force")
      expect(seconds("piece.wav"), args.join(" ")).toBeCloseTo(expected + RING, 4)
    }
  })
  test("markers in three forms", async () => {
    const names = [".csv", ".json", ".vtt"].flatMap(ending => ["--markers", at(`marks${ending}`)])
    await hear(...SLOW, ...names)
    expect(text("marks.csv").split("\r\n").slice(0, 4)).toEqual([
      "start,end,voice,place,id,kind,pitch,bar,rule,passage",
      expect.stringMatching(/^0,0\.5,cantus,cantus 1,[^,]*,note,c4,1,as-written,$/),
      expect.stringMatching(/^0,1,tenor,tenor 1,[^,]*,note,c3,1,as-written,$/),
      expect.stringMatching(/^0\.5,1,cantus,cantus 2,[^,]*,note,d4,1,as-written,$/),
    ])
    expect(JSON.parse(text("marks.json"))).toMatchObject({
      format: "resolutio-markers",
      title: "Two voices (invented)",
    })
    expect(text("marks.vtt")).toMatch(/^WEBVTT Two voices \(invented\)\n\n1\n00:00:00\.000 --> /)
  })
})

describe("a piece is performed by its form", () => {
  const BALLADE = `title: Twice (invented)

voice cantus white practice=white
C repeat-start B c4 d ending-open e repeat-end ending-closed f section g refrain-start L a refrain-end
`
  const CANON = `title: Alone and after (invented)

voice cantus white practice=white
clef:C1 canon:"Fuga duorum temporum in subdiapente" C B c4 S d e B f S g a B c5 L g4
`
  /** Second, place, pitch and bar of each tone. */
  const heard = async (text: string, ...args: string[]) => {
    const file = folder.save("form.figurae", text)
    const { err } = await resolutio([
      "hear",
      file,
      "-o",
      at("f.wav"),
      "--sound",
      "tone",
      ...SLOW,
      "--markers",
      at("f.csv"),
      "--force",
      ...args,
    ])
    expect(err).not.toContain("itself has failed")
    const lines = folder.text("f.csv").trim().split("\r\n").slice(1)
    return lines
      .map(line => line.split(","))
      .map(([start, , voice, place, , , pitch, bar]) => [Number(start), voice, place, pitch, Number(bar)])
  }
  test("repeats with their endings are sung in their order; a sign that comes again has the bar it is printed in", async () => {
    expect(await heard(BALLADE)).toEqual([
      [0, "cantus", "cantus 1", "c4", 1],
      [1, "cantus", "cantus 2", "d4", 2],
      [2, "cantus", "cantus 3", "e4", 3],
      [3, "cantus", "cantus 1", "c4", 1],
      [4, "cantus", "cantus 2", "d4", 2],
      [5, "cantus", "cantus 4", "f4", 4],
      [6, "cantus", "cantus 5", "g4", 5],
      [7, "cantus", "cantus 6", "a4", 6],
    ])
  })
  test("or once, as it stands", async () => {
    expect((await heard(BALLADE, "--repeats", "signs")).map(([, , place]) => place)).toEqual(
      [1, 2, 3, 4, 5, 6].map(n => `cantus ${n}`),
    )
  })
  test("the voices of a canon sound each at its time; both have a sound of their own", async () => {
    const tones = await heard(CANON)
    const starts = (voice: string) => tones.filter(one => one[1] === voice).map(([start]) => start)
    expect(starts("cantus").slice(0, 3)).toEqual([0, 1, 1.5])
    expect(starts("cantus 2").slice(0, 3)).toEqual([2, 3, 3.5])
    expect(tones.find(one => one[1] === "cantus 2")).toEqual([2, "cantus 2", "cantus 1", "f3", 3])
    expect((await heard(CANON, "--mute", "cantus 2")).every(one => one[1] === "cantus")).toBe(true)
  })
})

describe("two readings of a doubtful passage", () => {
  const DOUBTFUL = `title: Two ways (invented)

voice cantus black practice=ars-nova
C. S c4 M d4 M e4 S f4 S e4 M d4 M e4 M f4 S g4 B c4
`
  test("one after the other, named in the markers", async () => {
    const file = folder.save("doubt.figurae", DOUBTFUL)
    const args = ["hear", file, "-o", at("d.wav"), "--sound", "tone", "--markers", at("d.csv"), "--rivals"]
    const { status, err } = await resolutio(args)
    expect(status, err).toBeLessThan(2)
    expect(err).toMatch(/After one click cantus \d+ lasts \d\S* \(\S+\), after two \d\S* \(\S+\)\./)
    const passages = text("d.csv")
      .trim()
      .split("\r\n")
      .slice(1)
      .map(line => line.split(",").at(-1))
    expect([...new Set(passages)]).toEqual(["A", "B"])
    const played = (name: string) =>
      text("d.csv")
        .split("\r\n")
        .filter(line => line.endsWith(`,${name}`))
        .map(line => Number(line.split(",")[0]))
    const apart = (starts: number[]) => starts.slice(1).map((one, n) => (one - starts[n]!).toFixed(4))
    expect(apart(played("A"))).not.toEqual(apart(played("B")))
  })
  test("where a sign has one reading only, that is said", async () => {
    const { status, err } = await hear("--rivals", "tenor 1")
    expect(status).toBe(2)
    expect(err).toContain("there is only one reading")
  })
})

describe("what cannot be taken is said with what could", () => {
  test.each<[string[], string, string]>([
    [["--tempo", "breve"], "“breve” is no speed", "semibrevis=60"],
    [["--tempo", "longa=60"], "longa has no length of its own", "brevis"],
    [["--tempo", "minima=0"], "is no speed", "1 to 2000"],
    [["--speed", "0"], "is no speed", "from 0.1 to 10"],
    [["--speed", "1/0"], "is no speed", "from 0.1 to 10"],
    [["--equivalence", "long"], "does not say what stays equal", "minim, semibreve, breve or beat"],
    [["--equivalence", "24=0"], "does not say what stays equal", "24=breve"],
    [["--equivalence", "24=1/0"], "does not say what stays equal", "24=breve"],
    [["--tuning", "just"], "There is no tuning “just”", "pythagorean, meantone or equal"],
    [["--tuning", "./none.txt"], "cannot be read", "Check the name"],
    [["--year", "1450.5"], "“1450.5” cannot be taken", "whole number"],
    [["--pitch", "a440"], "“a440” cannot be taken", "from 220 to 880"],
    [["--shift", "P3"], "“P3” is no interval", "P4"],
    [["--sound", "kazoo"], "There is no sound “kazoo”", "voices, recorder, organ, strings or tone"],
    [["--sound", "alto=organ"], "There is no voice “alto”", "cantus (1) or tenor (2)"],
    [["--level", "tenor=99"], "“tenor=99” cannot be taken", "from -60 to 12"],
    [["--place", "tenor"], "“tenor” cannot be taken", "from -1 to 1"],
    [["--mute", "alto"], "There is no voice “alto”", "cantus (1)"],
    [["--fermata", "0.5"], "cannot be taken", "from 1 to 10"],
    [["--final", "-1"], "cannot be taken", "from 0 to 30"],
    [["--count-in", "1.5"], "cannot be taken", "whole number"],
    [["--loop", "0"], "cannot be taken", "from 1 to 1000"],
    [["--from", "8", "--to", "4"], "Nothing sounds between 8 and 4", "lasts from 0 to"],
    [["--from", "400"], "Nothing sounds", "lasts from 0 to"],
    [["--from", "tenor 99"], "no moment of this piece", "tenor 12"],
    [["--rivals", "tenor 99"], "There is no sign “tenor 99”", "cantus 1 to"],
    [["--rivals", "--files", "each"], "Rivals are heard in one file", "Leave out"],
    [["--markers", "x.txt"], "“x.txt”", ".csv, .json or .vtt"],
  ])("%j", async (args, what, mend) => {
    const { status, err } = await hear(...args)
    expect(status).toBe(2)
    expect(err).toContain(what)
    expect(err).toMatch(/\n {4}To mend it: /)
    expect(err).toContain(mend)
    expect(files()).toEqual(["piece.figurae"])
  })
  test("a name without an ending that tells what to write", async () => {
    const { status, err } = await resolutio(["hear", at("piece.figurae"), "-o", at("piece.flac")])
    expect([status, err.includes(".wav, .ogg or .mp3")]).toEqual([2, true])
  })
  test("a table of one's own names the line", async () => {
    folder.save("own.txt", "c 0\nd 200\ne 400\nf 500\ng 700\na 900\nh 3")
    const { status, err } = await hear("--tuning", at("own.txt"))
    expect(status).toBe(2)
    expect(err).toContain("own.txt, line 7")
    folder.save("own.txt", "c 0\nd 200\ne 400\ng 700\na 900")
    expect((await hear("--tuning", at("own.txt"))).err).toContain("The tuning has no f, which the piece needs")
    folder.save("own.txt", "c 0\nd 200\ne 400\nf 500\ng 700\na 900")
    expect((await hear("--tuning", at("own.txt"))).status).toBe(0)
  })
})

describe("what cannot be recorded", () => {
  test.each([
    ["no note", "voice a white practice=white\nC\n", [], "no note with a pitch"],
    ["no voice", "title: x\n", [], "no note with a pitch"],
    ["only rests", "voice a white practice=white\nC B r r\n", [], "no note with a pitch"],
    ["every voice left out", PIECE, ["--mute", "1", "--mute", "2"], "every voice is left out"],
    [
      "a proportion by which a note lasts for days",
      "voice a white practice=white\nC Mx c4 prop:1/1000 prop:1/1000 Mx c4 c4 c4\n",
      [],
      "It would sound for",
    ],
  ])("%s", async (_, text, args, told) => {
    const file = folder.save("odd.figurae", text)
    for (const which of ["all", "each"]) {
      const { status, err } = await resolutio([
        "hear",
        file,
        "-o",
        at("o.wav"),
        "--sound",
        "tone",
        "--files",
        which,
        ...args,
      ])
      expect(status, err).toBe(2)
      expect(err).toContain(told)
      expect(files()).toEqual(["odd.figurae", "piece.figurae"])
    }
  })
})

describe("a file is whole, or not there", () => {
  test("one that is there stays as it is without --force", async () => {
    folder.save("piece-2-tenor.wav", "mine")
    const { status, err } = await hear("--files", "each")
    expect(status).toBe(2)
    expect(err).toContain("--force")
    expect(files()).toEqual(["piece-2-tenor.wav", "piece.figurae"])
    expect(text("piece-2-tenor.wav")).toBe("mine")
  })
  test("into a folder that is not there", async () => {
    const { status, err } = await resolutio(["hear", at("piece.figurae"), "-o", at("none/o.wav"), "--sound", "tone"])
    expect(status).toBe(2)
    expect(err).toContain("no file or folder of this name")
  })
  test("stopped at any moment it leaves nothing, and what was there stays", async () => {
    folder.save("piece-2-tenor.wav", "mine")
    const before = files()
    for (const wait of [0, 120, 400]) {
      const stop = new AbortController()
      setTimeout(() => stop.abort(), wait)
      const err: string[] = []
      const shell = { out: () => {}, err: (line: string) => void err.push(line), colour: false, signal: stop.signal }
      const args = ["hear", at("piece.figurae"), "-o", at("piece.wav"), "--sound", "tone", "--files", "each", "--force"]
      expect(await run([...args, "--loop", "300"], shell)).toBe(130)
      expect(err).toEqual(expect.arrayContaining(["Stopped; nothing was written."]))
      expect(files()).toEqual(before)
      expect(text("piece-2-tenor.wav")).toBe("mine")
    }
  })
  const program = fileURLToPath(new URL("../bin/resolutio.mjs", import.meta.url))
  const built = existsSync(new URL("../dist/main.cjs", import.meta.url))
  test.skipIf(!built).each(["SIGINT", "SIGTERM"] as const)("%s from outside stops it", async signal => {
    const args = [program, "hear", at("piece.figurae"), "-o", at("piece.wav"), "--sound", "tone", "--loop", "900"]
    const child = spawn(process.execPath, args, { stdio: ["ignore", "ignore", "pipe"] })
    let told = ""
    child.stderr.on("data", (part: Buffer) => {
      const first = !told.includes("Sounding")
      told += part.toString()
      // It says after a second that it is at work.
      if (first && told.includes("Sounding")) child.kill(signal)
    })
    const status = await new Promise(resolve => void child.on("close", resolve))
    expect(told).toContain("Stopped; nothing was written.")
    expect(status).toBe(130)
    expect(files()).toEqual(["piece.figurae"])
  })
})

describe("without ffmpeg", () => {
  const path = process.env.PATH
  afterEach(() => void (process.env.PATH = path))
  test.each(["ogg", "mp3"])("there is the WAV in place of .%s, and a sentence how to get it", async ending => {
    process.env.PATH = folder.path
    const { status, err } = await resolutio(["hear", at("piece.figurae"), "-o", at(`p.${ending}`), "--sound", "tone"])
    expect(status).toBe(1)
    expect(files()).toEqual(["p.wav", "piece.figurae"])
    expect(readFileSync(at("p.wav")).subarray(0, 4).toString()).toBe("RIFF")
    expect(err).toContain("The program ffmpeg, which makes")
    expect(err).toContain("sudo apt-get install ffmpeg")
  })
})
