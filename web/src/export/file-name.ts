/** A file's name that every system takes. */
export const fileName = (title: string): string =>
  title
    .normalize("NFC")
    .replace(/[^\p{L}\p{N} ._-]/gu, "")
    .trim()
    .replace(/\s+/g, "-")
    .replace(/^\.+/, "")
    .slice(0, 80) || "piece"
