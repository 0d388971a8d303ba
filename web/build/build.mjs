// The workbench, built into web/dist.
import { fileURLToPath } from "node:url"
import { build } from "vite"

await build({ configFile: fileURLToPath(new URL("../vite.config.ts", import.meta.url)), logLevel: "error" })
