import { Command } from "commander"

const program = new Command("resolutio").description("Reads old music notation.").version("0.1.0")
await program.parseAsync()
