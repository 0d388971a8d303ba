// node scripts/fuzz.mjs [--count 10000] [--seed N] [--only mei|shorthand|asked]: spoils files at random and reads them; of
// some all is asked that the program knows (measures, repeats, slips, decisions), their pages spoilt once more.
// A reader may refuse a file or read what is left of it; it must not throw, hang, or give a problem without words.
// Prints how many files were read, how they ended, and the seed that brings the same files again.
import { readFileSync, readdirSync, existsSync, mkdtempSync, writeFileSync, rmSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { fileURLToPath, pathToFileURL } from "node:url"
import { Worker } from "node:worker_threads"
import { build } from "esbuild"
import { randomFrom, spoilt } from "./lib/injuries.mjs"

const ROOT = fileURLToPath(new URL("..", import.meta.url))
const SECONDS_EACH = 5
/** To look for slips takes longer; in so small a piece it should not take longer than this. */
const SECONDS_ASKED = 20

/** What is fuzzed: `read` is called on each spoilt text; `samples` are the files to spoil. */
const TARGETS = [
  { name: "mei", read: "fuzzMei", samples: () => [...filesEnding(".mei"), ...specialCases()] },
  { name: "shorthand", read: "fuzzShorthand", samples: () => filesEnding(".figurae") },
  // measures, repeats, slips and decisions; a hundredth as many, for each takes a hundred times as long
  { name: "asked", read: "fuzzAsked", samples: () => filesEnding(".figurae"), share: 0.01, seconds: SECONDS_ASKED },
]

const options = parseArguments(process.argv.slice(2))
const folder = mkdtempSync(join(tmpdir(), "fuzz-"))

async function main() {
  const bundle = await bundled()
  const { generated } = await import(pathToFileURL(bundle).href)
  const targets = TARGETS.filter(target => !options.only || target.name === options.only)
  const made = generated(options.seed)
  let bad = 0
  for (const target of targets) {
    const samples = [...target.samples(), ...(made[target.name] ?? [])]
    const count = Math.ceil((options.count / targets.length) * (options.only ? 1 : (target.share ?? 1)))
    console.log(`${target.name}: ${count} files made from ${samples.length}, seed ${options.seed}`)
    bad += await fuzz(target, samples, count, bundle)
  }
  console.log(bad === 0 ? "No crash and no hang." : `${bad} files went wrong; they stand above with their numbers.`)
  return bad === 0 ? 0 : 1
}

async function fuzz(target, samples, count, bundle) {
  const endings = new Map()
  let slowest = 0
  let bad = 0
  let worker = start(bundle, target.read)
  for (let i = 0; i < count; i++) {
    const random = randomFrom(options.seed * 1_000_003 + i)
    const text = spoilt(samples[Math.floor(random() * samples.length)], samples, random)
    const seconds = target.seconds ?? SECONDS_EACH
    const answer = await ask(worker, text, seconds)
    slowest = Math.max(slowest, answer.milliseconds ?? seconds * 1000)
    endings.set(answer.ending, (endings.get(answer.ending) ?? 0) + 1)
    if (answer.ending === "hang") {
      await worker.terminate()
      worker = start(bundle, target.read)
    }
    if (answer.ending === "hang" || answer.ending === "crash") {
      bad++
      const kept = join(tmpdir(), `fuzz-${target.name}-${options.seed}-${i}.txt`)
      writeFileSync(kept, text)
      console.log(`  number ${i}: ${answer.ending} ${answer.detail ?? ""} (kept as ${kept})`)
    }
    if (process.stdout.isTTY && i % 500 === 499) process.stdout.write(`  ${i + 1}\r`)
  }
  await worker.terminate()
  const told = [...endings].map(([ending, times]) => `${times} ${ending}`).join(", ")
  console.log(`  ${told}; the slowest took ${slowest.toFixed(0)} ms`)
  return bad
}

function start(bundle, read) {
  const code = `
    const { parentPort, workerData } = require("node:worker_threads")
    import(workerData.url).then(module => {
      parentPort.on("message", text => {
        const began = performance.now()
        let answer
        try { answer = module[workerData.read](text) } catch (error) { answer = { ending: "crash", detail: String(error && error.stack).slice(0, 600) } }
        parentPort.postMessage({ ...answer, milliseconds: performance.now() - began })
      })
      parentPort.postMessage("ready")
    })`
  const worker = new Worker(code, { eval: true, workerData: { url: pathToFileURL(bundle).href, read } })
  worker.ready = new Promise((resolve, reject) => {
    worker.once("message", resolve)
    worker.once("error", reject)
  })
  return worker
}

async function ask(worker, text, seconds) {
  await worker.ready
  return new Promise(resolve => {
    const timer = setTimeout(() => finish({ ending: "hang" }), seconds * 1000)
    const fail = error => finish({ ending: "crash", detail: String(error) })
    const finish = answer => {
      clearTimeout(timer)
      worker.off("message", finish)
      worker.off("error", fail)
      resolve(answer)
    }
    worker.on("message", finish)
    worker.on("error", fail)
    worker.postMessage(text)
  })
}

/** The readers and a maker of random files, as one module that needs no build. */
async function bundled() {
  const outfile = join(folder, "fuzz.mjs")
  await build({
    stdin: {
      contents: readFileSync(join(ROOT, "scripts/lib/fuzz-targets.ts"), "utf8"),
      resolveDir: join(ROOT, "scripts/lib"),
      loader: "ts",
    },
    bundle: true,
    platform: "node",
    format: "esm",
    outfile,
    logLevel: "error",
  })
  return outfile
}

function filesEnding(ending) {
  const demo = join(ROOT, "demo")
  const names = existsSync(demo) ? readdirSync(demo).filter(name => name.endsWith(ending)) : []
  return names.map(name => readFileSync(join(demo, name), "utf8"))
}

function specialCases() {
  const path = join(
    process.env.RESOLUTIO_STANDARDS ?? join(ROOT, "../shared/standards"),
    "examples/special-cases.mensural.mei",
  )
  if (existsSync(path)) return [readFileSync(path, "utf8")]
  console.log(`SKIPPED: ${path} is not there; set RESOLUTIO_STANDARDS to the folder that holds it.`)
  return []
}

function parseArguments(words) {
  const value = name => (words.includes(name) ? words[words.indexOf(name) + 1] : undefined)
  const number = (name, otherwise) => {
    const given = value(name)
    if (given === undefined) return otherwise
    if (/^\d{1,9}$/.test(given)) return Number(given)
    console.error(`${name} wants a whole number, not “${given}”.`)
    process.exit(2)
  }
  return { count: number("--count", 10_000), seed: number("--seed", Date.now() % 1_000_000_000), only: value("--only") }
}

try {
  process.exitCode = await main()
} finally {
  rmSync(folder, { recursive: true, force: true })
}
