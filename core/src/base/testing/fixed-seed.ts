/**
 * Random laws in `npm test` try the same pages and pieces every time: whether a change passes must not depend on luck.
 * New ones are tried by `npm test -- --long`, or from a number of one's own: `RESOLUTIO_SEED=7 npm test`.
 */
import { configureGlobal } from "fast-check"

const SEED = 20_261

const wished = process.env["RESOLUTIO_SEED"]
if (process.env["RESOLUTIO_LONG"] !== "1" || wished !== undefined)
  configureGlobal({ seed: wished === undefined ? SEED : Number(wished) })
