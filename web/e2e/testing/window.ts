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

/** `rehearsed`: with all that a window does while it has nothing to do. */
export type ContextOptions = BrowserContextOptions & { readonly rehearsed?: boolean }

/** In the window: the browser never has nothing to do. */
function neverIdle(): void {
  Object.defineProperty(globalThis, "requestIdleCallback", { value: () => 0 })
}

export class Windows {
  #browser: Browser | undefined
  #server: Awaited<ReturnType<typeof serve>>
  readonly #contexts: BrowserContext[] = []
  #shared: Opened | undefined

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

  /**
   * A memory of its own. The worker that keeps all files for offline costs as much as opening: it comes only when asked for. So does
   * the rehearsal of what keys ask for, which changes nothing but how quick they are.
   */
  async context({ rehearsed = false, ...options }: ContextOptions = {}): Promise<BrowserContext> {
    const size = { width: 1280, height: 800 }
    const context = await this.#browser!.newContext({ viewport: size, serviceWorkers: "block", ...options })
    if (!rehearsed) await context.addInitScript(neverIdle)
    this.#contexts.push(context)
    return context
  }

  /** What is open goes on drawing and takes time from the next test. `all`: the window that tests share too. */
  async close(all = true): Promise<void> {
    const kept = all ? undefined : this.#shared?.context
    if (!kept) this.#shared = undefined
    const gone = this.#contexts.splice(0).filter(one => one !== kept)
    if (kept) this.#contexts.push(kept)
    await Promise.all(gone.map(context => context.close()))
  }

  /**
   * The window that tests of a file share which begin by opening a piece: opening the window itself costs more than most of them. It
   * shows the music, with whatever bands and piece the test before has left; after a test that failed it is another.
   */
  async shared(): Promise<Opened> {
    const { page, complaints } = this.#shared ?? (await this.fresh())
    for (let i = 0; i < 5; i++) await page.keyboard.press("Escape")
    await page.getByText("Ask any sign why").waitFor()
    complaints.length = 0
    return this.#shared!
  }
  /** A window that no test has changed yet, once it shows the demo piece. From now on it is the one that is shared. */
  async fresh(): Promise<Opened> {
    await this.#shared?.context.close()
    const opened = await this.open()
    await settled(opened)
    return (this.#shared = opened)
  }

  /** A window on the workbench; a new memory unless a context is given. */
  async open(options: ContextOptions & { context?: BrowserContext; at?: string } = {}): Promise<Opened> {
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
  afterEach(({ task }) => all.close(task.result?.state === "fail"))
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

/** A piece from a file, once it is kept and its voices have been read. */
export async function openText(opened: Pick<Opened, "page">, text: string, title: string | RegExp): Promise<void> {
  const { page } = opened
  await page.keyboard.press("o")
  const file = { name: "piece.figurae", mimeType: "text/plain", buffer: Buffer.from(text) }
  await page.locator("input[type=file]").setInputFiles(file)
  await page.locator("h1").filter({ hasText: title }).waitFor()
  await settled(opened)
}

/** The demo piece of that title as it came, with nothing to be undone. */
export async function openDemo(opened: Pick<Opened, "page">, title: string): Promise<void> {
  const { page } = opened
  await page.keyboard.press("o")
  await page.getByRole("region", { name: "Look at", exact: true }).getByRole("button", { name: title }).click()
  await page.locator("section.time").waitFor()
  await settled(opened)
}

/** The headline of the Reason band, once it is this. */
export async function headline({ page }: Pick<Opened, "page">, text: string | RegExp): Promise<void> {
  await page.locator("h3.headline").filter({ hasText: text }).waitFor()
}

interface Looked {
  readonly drawings?: boolean
}
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8")

/**
 * What the rules of WCAG 2.2, levels A and AA, have against the page as it is now. Drawings are hidden from whoever hears the page, and
 * are most of its elements: what is in them is looked at where `drawings` asks for it.
 */
export async function accessibilityFaults(
  { page }: Pick<Opened, "page">,
  { drawings = false }: Looked = {},
): Promise<string[]> {
  if (!(await page.evaluate(() => "axe" in globalThis))) await page.evaluate(axe)
  return page.evaluate(
    async exclude => {
      interface Fault {
        readonly id: string
        readonly help: string
        readonly nodes: readonly { readonly html: string }[]
      }
      interface Axe {
        readonly run: (context: object, options: object) => Promise<{ violations: Fault[] }>
      }
      const { run } = (globalThis as unknown as { axe: Axe }).axe
      const { violations } = await run(
        { exclude },
        {
          runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
          resultTypes: ["violations"],
        },
      )
      return violations.map(
        ({ id, help, nodes }) => `${id}: ${help} (${nodes.map(node => node.html.slice(0, 120)).join("; ")})`,
      )
    },
    drawings ? [] : [["svg[aria-hidden=true]"]],
  )
}

export async function isAccessible(opened: Opened, looked: Looked = {}): Promise<void> {
  expect(await accessibilityFaults(opened, looked)).toEqual([])
}
