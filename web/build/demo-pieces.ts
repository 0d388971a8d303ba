/** The demo pieces as a module: `import pieces from "demo:pieces"` gives each with its name and its text. */
import { readdirSync, readFileSync } from "node:fs"
import { join } from "node:path"
import type { Plugin } from "vite"

const NAME = "demo:pieces"

export function demoPieces(folder: string): Plugin {
  return {
    name: "resolutio-demo-pieces",
    resolveId: source => (source === NAME ? `\0${NAME}` : undefined),
    load(id) {
      if (id !== `\0${NAME}`) return undefined
      const files = readdirSync(folder)
        .filter(file => file.endsWith(".figurae"))
        .sort()
      const pieces = files.map(file => ({ file, text: readFileSync(join(folder, file), "utf8") }))
      return `export default ${JSON.stringify(pieces)}`
    },
  }
}
