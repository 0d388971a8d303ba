export { markersOf, type Marker } from "./markers.js"
export { MARKER_COLUMNS, markersCsv, markersJson, markersVtt } from "./write.js"
