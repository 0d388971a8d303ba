import { availableParallelism } from "node:os"
import { fileURLToPath } from "node:url"
import { defineConfig } from "vitest/config"

export default defineConfig({
  resolve: {
    // Tests run on the sources; no build is needed for them.
    alias: {
      "@resolutio/core": fileURLToPath(new URL("./core/src/index.ts", import.meta.url)),
      "@resolutio/press": fileURLToPath(new URL("./press/src/index.ts", import.meta.url)),
    },
  },
  test: {
    // Ten times as many random pages take ten times as long.
    testTimeout: process.env["RESOLUTIO_LONG"] === "1" ? 1_200_000 : 120_000,
    // Every core: by itself the runner would keep one free, which halves the speed of a machine with two.
    maxWorkers: availableParallelism(),
    projects: [
      {
        extends: true,
        test: {
          name: "node",
          // Files of one worker share what they import: reading all of core anew for each took as long as a fifth of the tests.
          isolate: false,
          setupFiles: ["core/src/base/testing/fixed-seed.ts"],
          include: [
            "{core,press,cli,web}/src/**/*.test.ts",
            "web/build/**/*.test.ts",
            "{cases,docs,demo,scripts}/**/*.test.{ts,mjs}",
          ],
        },
      },
      {
        extends: true,
        test: {
          name: "browser",
          include: ["web/e2e/**/*.test.ts"],
          // A browser on a busy machine may once or twice be too slow; what is broken is broken every time.
          retry: 2,
        },
      },
    ],
  },
})
