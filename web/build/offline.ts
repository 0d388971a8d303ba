/**
 * The service worker's list of files, made when all others are. What the window needs is kept when it is first opened; the
 * engraver and the sounds, which are large, are kept when they have been asked for once.
 */
import { createHash } from "node:crypto"
import { readFileSync } from "node:fs"
import { join } from "node:path"
import type { Plugin } from "vite"

/** By name: too large to be fetched before they are wanted. */
const LARGE = /verovio|engraver|\.wasm$|\.sf[23]$/

export function offline(): Plugin {
  let root = ""
  return {
    name: "resolutio-offline",
    apply: "build",
    configResolved(config) {
      root = config.root
    },
    generateBundle(_, bundle) {
      const files = Object.keys(bundle)
        .filter(file => !file.endsWith(".map") && !LARGE.test(file))
        .sort()
      const kept = ["./", ...files.filter(file => file !== "index.html"), "icon.svg", "manifest.webmanifest"]
      const digest = createHash("sha256")
      for (const file of files) {
        const part = bundle[file]!
        digest.update(file).update(part.type === "chunk" ? part.code : part.source)
      }
      const source = readFileSync(join(root, "build", "service-worker.js"), "utf8")
        .replace("__KEPT__", JSON.stringify(kept))
        .replace("__VERSION__", JSON.stringify(digest.digest("hex").slice(0, 16)))
      this.emitFile({ type: "asset", fileName: "service-worker.js", source })
    },
  }
}
