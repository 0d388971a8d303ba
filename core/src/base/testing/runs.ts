/**
 * How often a random law is tried: so often in `npm test`, which has to be done in minutes, and ten times as often in
 * `npm test -- --long`.
 */
export const runs = (often: number): number => (process.env["RESOLUTIO_LONG"] === "1" ? 10 * often : often)
