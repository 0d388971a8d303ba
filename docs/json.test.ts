/** Every member of what `--format json` prints is told on the page about it. */
import { readFileSync } from "node:fs"
import { describe, expect, test } from "vitest"
import { run } from "../cli/src/program.js"

const page = readFileSync(new URL("json.md", import.meta.url), "utf8")
const demo = (name: string) => new URL(`../demo/${name}`, import.meta.url).pathname

/** Objects whose names are those of a piece, or of options, not of the form. */
const BY_NAME = new Set(["options"])

function membersOf(value: unknown, own: (name: string) => boolean = () => true): string[] {
  if (Array.isArray(value)) return value.flatMap(one => membersOf(one))
  if (typeof value !== "object" || value === null) return []
  return Object.entries(value).flatMap(([name, inside]) => [
    ...(own(name) && /^[a-z][a-zA-Z]*$/.test(name) ? [name] : []),
    ...membersOf(inside, BY_NAME.has(name) ? () => false : undefined),
  ])
}

async function printed(...args: string[]): Promise<unknown> {
  const out: string[] = []
  await run([...args, "--format", "json"], { out: text => void out.push(text), err: () => {}, colour: false })
  return JSON.parse(out.join("\n"))
}

describe.each(["read", "fit", "tenor", "mensuration", "ficta"])("%s", command => {
  test.each(["1-ordo-tenor", "6-proportion-coloration", "8-tenor-bis"])("%s", async name => {
    const found = membersOf(await printed(command, demo(`${name}.figurae`)))
    expect(found.length).toBeGreaterThan(3)
    expect([...new Set(found)].filter(one => !page.includes(`\`${one}\``))).toEqual([])
  })
})
