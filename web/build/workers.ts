/**
 * Workers that share their code with the page. Vite bundles a worker by itself, with a second copy of the core in it; here it is
 * a further entry of the one build, so that both load the same parts once.
 *
 *     import address from "worker:./reading/worker.ts"    // from web/src
 *     new Worker(address, { type: "module" })
 */
import { resolve } from "node:path"
import type { Plugin } from "vite"

const PREFIX = "worker:"

export function workers(): Plugin {
  let root = ""
  let serving = false
  return {
    name: "resolutio-workers",
    enforce: "pre",
    configResolved(config) {
      root = config.root
      serving = config.command === "serve"
    },
    resolveId(source) {
      return source.startsWith(PREFIX) ? `\0${source}` : undefined
    },
    load(id) {
      if (!id.startsWith(`\0${PREFIX}`)) return undefined
      const path = id.slice(PREFIX.length + 1).replace(/^\.\//, "src/")
      if (serving) return `export default ${JSON.stringify(`/${path}`)}`
      const name = /([\w-]+)\.ts$/.exec(path)?.[1] ?? "worker"
      const reference = this.emitFile({ type: "chunk", id: resolve(root, path), name })
      return `export default import.meta.ROLLUP_FILE_URL_${reference}`
    },
  }
}
