/** What is taken for a photograph before it is looked into. */
/** By name or by what the browser takes it for: a picture, or what passes for one. */
export const passesForPicture = ({ name, type }: File): boolean =>
  type.startsWith("image/") || /\.(png|jpe?g|jfif|webp|gif|bmp|tiff?|avif|heic|svgz?)$/i.test(name)
