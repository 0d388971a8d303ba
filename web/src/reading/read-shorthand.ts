export { openShorthand } from "@resolutio/core"
