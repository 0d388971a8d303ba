/** Modules that the build makes. */
declare module "worker:*" {
  const address: string
  export default address
}
declare module "demo:pieces" {
  const pieces: readonly { readonly file: string; readonly title: string; readonly text: () => Promise<string> }[]
  export default pieces
}
declare module "*?url" {
  const address: string
  export default address
}
declare module "*.css"
declare const VERSION: string
interface ImportMeta {
  readonly env: { readonly PROD: boolean }
}
