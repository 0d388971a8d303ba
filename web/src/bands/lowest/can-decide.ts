import type { Told } from "../../reading/tell.js"

/** How long it lasts can be decided, or what it is taken for. */
export const canDecide = ({ kind }: Pick<Told, "kind">): boolean =>
  kind === "note" || kind === "rest" || kind === "dot" || kind === "stroke"
