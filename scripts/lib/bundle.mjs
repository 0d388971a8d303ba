// The sources as one module: lawful voices are test code and belong to no build.
import { mkdirSync, mkdtempSync, rmSync } from "node:fs"
import { join } from "node:path"
import { pathToFileURL } from "node:url"
import { inRoot } from "./tools.mjs"

/** What `contents` (TypeScript, paths from the project's root) exports. Packages are left where npm has put them. */
export async function bundled(contents) {
  const { build } = await import("esbuild")
  mkdirSync(inRoot("out"), { recursive: true })
  const folder = mkdtempSync(inRoot("out", "bundle-"))
  const outfile = join(folder, "bundled.mjs")
  try {
    const stdin = { contents, resolveDir: inRoot(), loader: "ts" }
    await build({
      stdin,
      bundle: true,
      format: "esm",
      platform: "node",
      packages: "external",
      outfile,
      logLevel: "error",
    })
    return await import(pathToFileURL(outfile).href)
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}
