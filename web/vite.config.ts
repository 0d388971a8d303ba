import { readFileSync } from "node:fs"
import { fileURLToPath } from "node:url"
import react from "@vitejs/plugin-react"
import { defineConfig } from "vite"
import { demoPieces } from "./build/demo-pieces.js"
import { leanFonts } from "./build/lean-fonts.js"
import { offline } from "./build/offline.js"
import { policy } from "./build/policy.js"
import { workers } from "./build/workers.js"
import { xmlEntities } from "./build/xml-entities.js"

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url))
const { version } = JSON.parse(readFileSync(here("package.json"), "utf8")) as { version: string }

export default defineConfig({
  root: here("."),
  // Any folder of any file server will do.
  base: "./",
  define: { VERSION: JSON.stringify(version) },
  resolve: {
    alias: [
      // a sixth of the size, and quicker where a key is pressed
      { find: /^react-dom\/client$/, replacement: "preact/compat/client" },
      { find: /^react(-dom)?$/, replacement: "preact/compat" },
      { find: /^react\/jsx(-dev)?-runtime$/, replacement: "preact/jsx-runtime" },
      { find: /^@resolutio\/core\/sound\//, replacement: here("../core/assets/sound/") },
      { find: /^@resolutio\/core$/, replacement: here("../core/src/index.ts") },
      { find: /^@resolutio\/press$/, replacement: here("../press/src/index.ts") },
    ],
  },
  plugins: [react(), workers(), xmlEntities(), demoPieces(here("../demo")), policy(), leanFonts(), offline()],
  build: {
    outDir: here("dist"),
    emptyOutDir: true,
    target: "es2022",
    // the code that preloads wants a document, and a worker has none
    modulePreload: false,
    assetsInlineLimit: 0,
    chunkSizeWarningLimit: 800,
  },
})
