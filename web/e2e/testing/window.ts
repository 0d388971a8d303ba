/** The built workbench in a real browser, for tests: served from web/dist, nothing of it changed. */
import { existsSync, readFileSync } from "node:fs"
import { createRequire } from "node:module"
import { fileURLToPath } from "node:url"
import { chromium, type Browser, type BrowserContext, type BrowserContextOptions, type Page } from "playwright-core"
import { afterAll, afterEach, beforeAll, expect } from "vitest"
import { serve } from "../../../scripts/lib/serve.mjs"

export const CHROMIUM = process.env["RESOLUTIO_CHROMIUM"] ?? "/usr/bin/chromium"
export const hasBrowser = existsSync(CHROMIUM)
/** Said by the driver, not the window, where the worker for offline is not wanted. */
const NO_WORKER = /^Service Worker registration blocked/
const dist = fileURLToPath(new URL("../../dist", import.meta.url))

/** One window with a memory of its own. */
export interface Opened {
  readonly page: Page
  readonly context: BrowserContext
  /** Errors, and what the policy has refused, since it was opened. */
  readonly complaints: string[]
}

export class Windows {
  #browser: Browser | undefined
  #server: Awaited<ReturnType<typeof serve>>
  readonly #contexts: BrowserContext[] = []

  get address(): string {
    return this.#server!.address
  }

  async start(): Promise<void> {
    if (!existsSync(dist)) throw new Error("web/dist is not there: npm run build makes it")
    this.#server = await serve(dist)
    this.#browser = await chromium.launch({ executablePath: CHROMIUM, args: ["--no-sandbox", "--disable-gpu"] })
  }

  async end(): Promise<void> {
    await this.#browser?.close()
    this.#server?.server.close()
    this.#server?.server.closeAllConnections()
  }

  /** A memory of its own. The worker that keeps all files for offline costs as much as opening: it comes only when asked for. */
  async context(options: BrowserContextOptions = {}): Promise<BrowserContext> {
    const size = { width: 1280, height: 800 }
    const context = await this.#browser!.newContext({ viewport: size, serviceWorkers: "block", ...options })
    this.#contexts.push(context)
    return context
  }

  /** What is open goes on drawing and takes time from the next test. */
  async close(): Promise<void> {
    await Promise.all(this.#contexts.splice(0).map(context => context.close()))
  }

  /** A window on the workbench; a new memory unless a context is given. */
  async open(options: BrowserContextOptions & { context?: BrowserContext; at?: string } = {}): Promise<Opened> {
    const { context: given, at = "", ...more } = options
    const context = given ?? (await this.context(more))
    const page = await context.newPage()
    const complaints: string[] = []
    page.on("pageerror", error => complaints.push(error.message))
    page.on("console", message => {
      if (/^(error|warning)$/.test(message.type()) && !NO_WORKER.test(message.text())) complaints.push(message.text())
    })
    await page.goto(this.address + at)
    return { page, context, complaints }
  }
}

/** Windows for the tests of a file. */
export function windows(): Windows {
  const all = new Windows()
  beforeAll(() => all.start())
  afterEach(() => all.close())
  afterAll(() => all.end())
  return all
}

/** The voices have been read together, and everything done so far is kept. */
export async function settled({ page }: Pick<Opened, "page">): Promise<void> {
  await page
    .getByRole("status")
    .filter({ hasText: /^(Read\.|The last)/ })
    .waitFor()
  await page.getByText("kept on this machine").waitFor()
}

/** The headline of the Reason band, once it is this. */
export async function headline({ page }: Pick<Opened, "page">, text: string | RegExp): Promise<void> {
  await page.locator("h3.headline").filter({ hasText: text }).waitFor()
}

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8")

/** What the rules of WCAG 2.2, levels A and AA, have against the page as it is now. */
export async function accessibilityFaults({ page }: Pick<Opened, "page">): Promise<string[]> {
  await page.evaluate(axe)
  return page.evaluate(async () => {
    interface Fault {
      readonly id: string
      readonly help: string
      readonly nodes: readonly { readonly html: string }[]
    }
    const run = (globalThis as unknown as { axe: { run: (options: object) => Promise<{ violations: Fault[] }> } }).axe
      .run
    const { violations } = await run({
      runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    })
    return violations.map(
      ({ id, help, nodes }) => `${id}: ${help} (${nodes.map(node => node.html.slice(0, 120)).join("; ")})`,
    )
  })
}

export async function isAccessible(opened: Opened): Promise<void> {
  expect(await accessibilityFaults(opened)).toEqual([])
}
