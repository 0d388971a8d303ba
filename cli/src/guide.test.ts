import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { expect, test } from "vitest"
// @ts-expect-error -- a script without types
import { filled, picturesIn } from "../../scripts/lib/guide.mjs"
import { run } from "./program.js"

test.each(["guide.md", "score.md", "edition.md"])(
  "%s shows what the program prints (if not: npm run build, node scripts/docs.mjs)",
  async file => {
    const folder = mkdtempSync(join(tmpdir(), "resolutio-guide-"))
    const before = process.cwd()
    process.chdir(folder)
    try {
      const page = readFileSync(new URL(`../../docs/${file}`, import.meta.url), "utf8")
      const save = (name: string, text: string) => writeFileSync(join(folder, name), text)
      expect(await filled(page, save, answer)).toBe(page)
      for (const { kept, written } of picturesIn(page)) {
        const [old, now] = [new URL(`../../docs/${kept}`, import.meta.url), join(folder, written)].map(shownIn)
        expect(old, kept).toEqual(now)
      }
    } finally {
      process.chdir(before)
      rmSync(folder, { recursive: true, force: true })
    }
  },
)

/** What a picture says and how large it is: forms of signs may be drawn better. */
function shownIn(file: URL | string) {
  const svg = readFileSync(file, "utf8")
  return { size: /viewBox="[^"]+"/.exec(svg)?.[0], words: [...svg.matchAll(/>([^<\n]+)<\//g)].map(([, text]) => text) }
}

/** All that the command prints: first the answer, then what it says to the person. */
async function answer(args: readonly string[]): Promise<string> {
  const out: string[] = []
  const err: string[] = []
  await run(args, { out: text => void out.push(`${text}\n`), err: text => void err.push(`${text}\n`), colour: false })
  return [...out, ...err].join("")
}
