import { fileURLToPath } from "node:url"
import { defineConfig } from "vitest/config"

export default defineConfig({
  resolve: {
    // Tests run on the sources; no build is needed for them.
    alias: { "@resolutio/core": fileURLToPath(new URL("./core/src/index.ts", import.meta.url)) },
  },
  test: {
    include: [
      "{core,cli,web}/src/**/*.test.ts",
      "web/e2e/**/*.test.ts",
      "{cases,docs,demo,scripts}/**/*.test.{ts,mjs}",
    ],
    testTimeout: 60_000,
  },
})
