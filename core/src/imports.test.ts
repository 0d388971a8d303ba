/** The import rule: an arrow only ever points up the list of folders, so a reader can stop at any of them. */
import { readdirSync, readFileSync } from "node:fs"
import { dirname, join, relative, resolve, sep } from "node:path"
import { fileURLToPath } from "node:url"
import { describe, expect, test } from "vitest"

const source = fileURLToPath(new URL(".", import.meta.url))
const project = resolve(source, "../..")

const MAY_IMPORT: Record<string, readonly string[]> = {
  base: [],
  page: ["base"],
  practices: ["base", "page"],
  reading: ["base", "page", "practices"],
  score: ["base", "page", "reading"],
  counterpoint: ["base", "practices", "score"],
  together: ["base", "page", "practices", "reading", "score", "counterpoint"],
  ficta: ["base", "page", "practices", "reading", "score", "counterpoint"],
  edition: ["base", "page", "score"],
  performance: ["base", "score"],
  drawing: ["base", "page", "practices", "reading", "score"],
  formats: ["base", "page", "reading", "score", "ficta", "edition", "together", "performance"],
  book: [
    "base",
    "page",
    "practices",
    "reading",
    "score",
    "ficta",
    "edition",
    "counterpoint",
    "together",
    "performance",
    "drawing",
    "formats",
  ],
  teaching: [
    "base",
    "page",
    "practices",
    "reading",
    "score",
    "edition",
    "counterpoint",
    "together",
    "performance",
    "drawing",
    "formats",
  ],
}

interface Import {
  readonly from: string
  readonly target: string
}

/** Each `from "…"`, `import "…"` and `import("…")` of a file, as written. */
function importsOf(text: string): string[] {
  const code = text.replace(/\/\*[\s\S]*?\*\//g, "").replace(/^\s*\/\/.*$/gm, "")
  return [...code.matchAll(/(?:\bfrom\s+|\bimport\s+|\bimport\s*\(\s*)["']([^"']+)["']/g)].map(found => found[1] ?? "")
}

/** The complaint about one import between folders of core, or undefined when it may stand. */
function complaint({ from, target }: Import): string | undefined {
  const [here = ""] = from.split("/")
  const [there = ""] = target.split("/")
  if (!from.includes("/") || here === there) return undefined
  const allowed = MAY_IMPORT[here]
  if (!allowed)
    return `${from} stands in a folder without an import rule: say in imports.test.ts what ${here} may import`
  if (allowed.includes(there)) return undefined
  return `${from} imports ${there}: ${here} may import ${allowed.join(", ") || "nothing"}`
}

/** Sources of a folder, as paths from it with "/". */
function sourcesOf(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: "utf8" })
    .map(path => path.split(sep).join("/"))
    .filter(path => /\.(ts|tsx|mts|js|mjs)$/.test(path) && !path.includes("node_modules/"))
}

function coreImports(file: string): Import[] {
  return importsOf(readFileSync(join(source, file), "utf8"))
    .filter(target => target.startsWith("."))
    .map(target =>
      relative(source, resolve(source, dirname(file), target))
        .split(sep)
        .join("/"),
    )
    .map(target => ({ from: file, target }))
}

describe("folders of core", () => {
  // A test may look further down: it stands outside the way of the data.
  // A script that generates sources (.mjs) is not part of the library.
  const files = sourcesOf(source).filter(
    file => file.endsWith(".ts") && !file.endsWith(".test.ts") && !file.includes("testing/"),
  )
  test("import only what stands above them", () => {
    expect(files.length).toBeGreaterThan(5)
    expect(files.flatMap(coreImports).map(complaint).filter(Boolean)).toEqual([])
  })
  test("import no package but these", () => {
    const allowed = /^(\.|@xmldom\/xmldom$|@lezer\/(common|lr)$)/
    const strange = files.flatMap(file =>
      importsOf(readFileSync(join(source, file), "utf8"))
        .filter(target => !allowed.test(target))
        .map(target => `${file} imports ${target}`),
    )
    expect(strange).toEqual([])
  })
})

describe("press, cli and web", () => {
  test("press knows nothing of cli and web, nor of a disk", () => {
    const strange = existing(join(project, "press/src"))
      .filter(file => !file.includes(".test."))
      .flatMap(file =>
        importsOf(readFileSync(join(project, "press/src", file), "utf8"))
          .filter(target => /^node:|(^|\/)(cli|web)\//.test(target))
          .map(target => `press/src/${file} imports ${target}`),
      )
    expect(strange).toEqual([])
  })
  test.each(["press/src", "cli/src", "web/src"])("%s reaches core only through its index", folder => {
    const files = folder === "web/src" ? existing(join(project, folder)) : sourcesOf(join(project, folder))
    const strange = files.flatMap(file =>
      importsOf(readFileSync(join(project, folder, file), "utf8"))
        // the sound bank is no code: it is had by its own name
        .filter(target => /(^|\/)core\//.test(target) && !target.startsWith("@resolutio/core/sound/"))
        .map(target => `${folder}/${file} imports ${target}: it may import @resolutio/core`),
    )
    expect(strange).toEqual([])
  })
})

describe("the rule itself", () => {
  test.each([
    [
      "drawing/old/note.ts",
      "performance/index.js",
      "drawing/old/note.ts imports performance: drawing may import base, page, practices, reading, score",
    ],
    ["base/ids.ts", "page/index.js", "base/ids.ts imports page: base may import nothing"],
    [
      "novelty/a.ts",
      "base/index.js",
      "novelty/a.ts stands in a folder without an import rule: say in imports.test.ts what novelty may import",
    ],
    ["drawing/old/note.ts", "drawing/glyphs.js", undefined],
    ["formats/mei/read.ts", "page/index.js", undefined],
  ])("%s may import %s or not", (from, target, expected) => {
    expect(complaint({ from, target })).toBe(expected)
  })
  test("every way of importing is seen", () => {
    const text = `import a from "./a.js"\nimport "./b.js"\nexport * from './c.js'\nconst d = await import("./d.js")\n// from "./e.js"\nexport {\n  f,\n} from "./f.js"`
    expect(importsOf(text)).toEqual(["./a.js", "./b.js", "./c.js", "./d.js", "./f.js"])
  })
})

function existing(folder: string): string[] {
  try {
    return sourcesOf(folder)
  } catch {
    return []
  }
}
