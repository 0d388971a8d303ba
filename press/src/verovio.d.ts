/** The part of the engraver that is used here; the package brings no types. */
declare module "verovio/wasm" {
  /** The running program; its files can be replaced before a toolkit reads them. */
  export interface VerovioModule {
    FS_unlink(path: string): void
    FS_createDataFile(folder: string, name: string, content: string, canRead: boolean, canWrite: boolean): void
  }
  export default function createVerovioModule(): Promise<VerovioModule>
}
declare module "verovio/esm" {
  import type { VerovioModule } from "verovio/wasm"
  export class VerovioToolkit {
    constructor(engine: VerovioModule)
    setOptions(options: Readonly<Record<string, unknown>>): void
    loadData(data: string): boolean | number
    getLog(): string
    getMEI(options: Readonly<Record<string, unknown>>): string
    getPageCount(): number
    renderToSVG(page: number, xmlDeclaration: boolean): string
    renderToTimemap(options: Readonly<Record<string, unknown>>): unknown
    destroy(): void
  }
  export function enableLogToBuffer(value: boolean, engine: VerovioModule): void
}
