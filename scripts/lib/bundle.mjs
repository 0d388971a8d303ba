// The sources as one module: lawful voices are test code and belong to no build.
import { mkdtempSync, rmSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { pathToFileURL } from "node:url"
import { inRoot } from "./tools.mjs"

/** What `contents` (TypeScript, paths from the project's root) exports. */
export async function bundled(contents) {
  const { build } = await import("esbuild")
  const folder = mkdtempSync(join(tmpdir(), "resolutio-bundle-"))
  const outfile = join(folder, "bundled.mjs")
  try {
    const stdin = { contents, resolveDir: inRoot(), loader: "ts" }
    await build({ stdin, bundle: true, format: "esm", platform: "node", outfile, logLevel: "error" })
    return await import(pathToFileURL(outfile).href)
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}
