/**
 * The service worker's list of files, made when all others are. What the window needs is kept when it is first opened; the
 * engraver, the sounds and what writes PDF, which are large, are kept when they have been asked for once.
 */
import { createHash } from "node:crypto"
import { readFileSync } from "node:fs"
import { join } from "node:path"
import type { Plugin } from "vite"

/** Too large to be fetched before they are wanted: files by their endings, and what holds a part of one of these packages. */
const LARGE_FILES = /\.wasm$|\.sf[23]$|\.ttf$/
const LARGE_PACKAGES =
  /node_modules\/(verovio|spessasynth_core|pdfkit|svg-to-pdfkit|fontkit|brotli|unicode-properties|@resvg)\//

type Part = { readonly type: "asset" } | { readonly type: "chunk"; readonly moduleIds: readonly string[] }
const isLarge = (file: string, part: Part): boolean =>
  LARGE_FILES.test(file) || (part.type === "chunk" && part.moduleIds.some(id => LARGE_PACKAGES.test(id)))

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
        .filter(file => !file.endsWith(".map") && !isLarge(file, bundle[file]!))
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
