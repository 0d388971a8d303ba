// npm test: installs what the tests need, builds, checks types, lint and format, runs every test.
// Ends with one line "N passed, N failed", in which each check counts as one.
// With `-- --long` each random law is tried ten times as often. Other arguments are the runner's: names of test files, for one.
import { spawn } from "node:child_process"
import { once } from "node:events"
import { existsSync, mkdirSync, openSync, readFileSync, rmSync } from "node:fs"
import { checkNode, fromRoot, inRoot, install, run, runNode, step } from "./lib/tools.mjs"
import { systemPackages } from "./lib/system.mjs"

checkNode()
step("Looking for what the tests need")
install()
const skipped = [
  ...systemPackages([
    { program: "/usr/bin/chromium", debian: "chromium", why: "checks of the workbench in a real browser" },
    { program: "/usr/bin/ffmpeg", debian: "ffmpeg", why: "loudness and packed sound by another program" },
    { program: "/usr/bin/pdftotext", debian: "poppler-utils", why: "PDFs of editions, read back by other programs" },
  ]),
  ...outsideFolders(),
]

const format = startFormat()
const checks = [
  { title: "Building", check: () => runNode("scripts/build.mjs") },
  {
    title: "Checking the types of the tests",
    check: () => runNode("node_modules/typescript/bin/tsc", "-p", "tsconfig.tests.json"),
  },
  { title: "Linting", check: () => runNode("node_modules/oxlint/bin/oxlint", "--type-aware", "--deny-warnings") },
  { title: "Checking the format", check: format },
]
const broken = []
for (const { title, check } of checks) {
  step(title)
  if ((await check()) !== 0) broken.push(title)
}
step("Running the tests")
const wishes = process.argv.slice(2)
if (wishes.includes("--long")) process.env.RESOLUTIO_LONG = "1"
const tests = runTests(wishes.filter(wish => wish !== "--long"))

for (const title of broken) console.log(`\n✗ failed: ${title}`)
for (const one of skipped) console.log(`\n⚠ SKIPPED: ${one}`)
if (tests.skipped > 0) console.log(`\n⚠ SKIPPED: ${tests.skipped} tests; each says above what it lacks.`)
const failed = tests.failed + broken.length
console.log(`\n${tests.passed + checks.length - broken.length} passed, ${failed} failed`)
process.exitCode = failed > 0 ? 1 : 0

/** The format of files does not depend on what is built of them: it is looked at meanwhile. Gives what waits for the end of that. */
function startFormat() {
  mkdirSync(inRoot("out"), { recursive: true })
  const log = inRoot("out", "format.log")
  const told = openSync(log, "w")
  const prettier = inRoot("node_modules/prettier/bin/prettier.cjs")
  const looking = spawn(process.execPath, [prettier, "--check", "--log-level=warn", "."], {
    cwd: inRoot(),
    stdio: ["ignore", told, told],
  })
  const ended = once(looking, "close")
  return async () => {
    const [status] = await ended.catch(() => [1])
    process.stdout.write(readFileSync(log, "utf8"))
    return status ?? 1
  }
}

/** Runs vitest; when it does not come to its end, that is one failure. */
function runTests(wanted) {
  const report = inRoot("out", "tests.json")
  rmSync(report, { force: true })
  const vitest = inRoot("node_modules/vitest/vitest.mjs")
  const reporters = ["--reporter=default", "--reporter=json", `--outputFile.json=${report}`]
  const status = run(process.execPath, [vitest, "run", ...reporters, ...wanted])
  const tests = existsSync(report)
    ? count(JSON.parse(readFileSync(report, "utf8")))
    : { passed: 0, failed: 0, skipped: 0 }
  if (status === 0 || tests.failed > 0) return tests
  console.log("\n✗ The tests did not run to their end; the message stands above.")
  return { ...tests, failed: 1 }
}

/** A file that could not even be loaded counts as one failed test. */
function count(results) {
  const unloaded = results.testResults.filter(file => file.status === "failed" && file.assertionResults.length === 0)
  for (const file of unloaded) console.log(`\n✗ could not be loaded: ${fromRoot(file.name)}`)
  return {
    passed: results.numPassedTests,
    failed: results.numFailedTests + unloaded.length,
    skipped: results.numPendingTests + results.numTodoTests,
  }
}

/** Schemas and pieces that are not ours to pass on stand outside; tests that need them skip without them. */
function outsideFolders() {
  const wanted = [
    [
      "RESOLUTIO_STANDARDS",
      "../shared/standards",
      "checks against the MEI and MusicXML schemas and the MEI Guidelines' examples",
    ],
    ["RESOLUTIO_PIECES", "../shared/pieces", "comparison of real pieces with their independent transcriptions"],
  ]
  return wanted
    .filter(([name, usual]) => !existsSync(process.env[name] ?? inRoot(usual)))
    .map(([name, usual, what]) => `${what}. To run them, put the files in ${usual} or name their folder in ${name}.`)
}
