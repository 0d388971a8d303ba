/** The part of the engraver that is used here; the package brings no types. */
declare module "verovio/wasm" {
  export default function createVerovioModule(): Promise<unknown>
}
declare module "verovio/esm" {
  export class VerovioToolkit {
    constructor(engine: unknown)
    setOptions(options: Readonly<Record<string, unknown>>): void
    loadData(data: string): boolean | number
    getLog(): string
    getMEI(options: Readonly<Record<string, unknown>>): string
    getPageCount(): number
    renderToSVG(page: number, xmlDeclaration: boolean): string
    renderToTimemap(options: Readonly<Record<string, unknown>>): unknown
    destroy(): void
  }
  export function enableLogToBuffer(value: boolean, engine: unknown): void
}
