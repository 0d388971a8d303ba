export { openMei } from "@resolutio/core"
