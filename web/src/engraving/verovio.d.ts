/** The part of the engraver that is used here; the package brings no types. */
declare module "verovio/wasm" {
  export interface VerovioModule {
    FS_unlink(path: string): void
    FS_createDataFile(folder: string, name: string, content: string, canRead: boolean, canWrite: boolean): void
  }
  export default function createVerovioModule(): Promise<VerovioModule>
}
declare module "verovio/esm" {
  import type { EngraverToolkit } from "@resolutio/core"
  import type { VerovioModule } from "verovio/wasm"
  export class VerovioToolkit implements EngraverToolkit {
    constructor(engine: VerovioModule)
    setOptions(options: Readonly<Record<string, unknown>>): void
    loadData(data: string): boolean | number
    getLog(): string
    getPageCount(): number
    renderToSVG(page: number, xmlDeclaration: boolean): string
    destroy(): void
  }
  export function enableLogToBuffer(value: boolean, engine: VerovioModule): void
}
