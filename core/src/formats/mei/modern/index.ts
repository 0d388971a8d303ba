export { barNumber, partId, plicaId, scoreId } from "./ids.js"
export { modernMeiCannotCarry } from "./losses.js"
export type { MeiLayout } from "./section.js"
export { goesOnOver, modernMei } from "./write.js"
