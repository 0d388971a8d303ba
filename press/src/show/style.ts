/** The page's style sheet. Colours are those of drawings, by role. */
import { STYLE_NAMES, themeNamed, type Role } from "@resolutio/core"

function colours(theme: "light" | "dark"): string {
  const { colours } = themeNamed(theme)!
  return Object.entries(STYLE_NAMES)
    .map(([role, name]) => `--${name}:${colours[role as Role]}`)
    .join(";")
}

export const styleSheet = (fonts: string): string => `${fonts}
:root{color-scheme:light;${colours("light")}}
@media (prefers-color-scheme:dark){:root{color-scheme:dark;${colours("dark")}}}
:root[data-ground=light]{color-scheme:light;${colours("light")}}
:root[data-ground=dark]{color-scheme:dark;${colours("dark")}}
*{box-sizing:border-box;margin:0}
html{scroll-padding-bottom:16rem}
body{background:var(--ground);color:var(--ink);font:400 1.0625rem/1.45 "Source Sans 3","Noto Sans",Arial,sans-serif;padding:0 clamp(16px,2.5vw,32px)}
header{display:flex;flex-wrap:wrap;align-items:baseline;justify-content:space-between;gap:4px 24px;padding:14px 0 10px}
h1{font:700 1.75rem/1.2 Alegreya,Georgia,serif;overflow-wrap:anywhere}
h2{font:italic 400 1.3125rem/1.3 Alegreya,Georgia,serif;color:var(--red)}
section{border-top:1.5px solid var(--clay-edge);padding:8px 0 12px}
button{font:600 1.0625rem/1.3 "Source Sans 3","Noto Sans",Arial,sans-serif;color:var(--ink);background:none;border:0;padding:4px 0;min-height:30px;min-width:24px;cursor:pointer;text-decoration:underline;text-decoration-color:var(--staff);text-underline-offset:4px}
#because button{margin-right:12px;min-height:24px;padding:0}
kbd{font:400 .875rem/1 "Source Sans 3","Noto Sans",Arial,sans-serif;border:1.5px solid var(--second);border-radius:3px;padding:2px 5px;margin-left:8px;color:var(--second);display:inline-block;text-decoration:none}
.listening{display:flex;flex-wrap:wrap;align-items:center;gap:4px 24px}
.listening h2{width:100%}
label{display:flex;align-items:center;gap:8px}
input[type=range]{accent-color:var(--ink);min-height:24px;max-width:40vw}
#at{width:min(320px,60vw)}
select{font:inherit;color:var(--ink);background:var(--ground);border:1.5px solid var(--second);border-radius:3px;min-height:30px;padding:2px 6px}
.quiet{color:var(--second)}
.music{overflow-x:auto;position:relative}
.music svg{display:block}
:focus-visible{outline:3px solid var(--ink);outline-offset:3px}
.music:focus-visible{outline-offset:-3px}
.cartouche{fill:none;stroke:var(--blue);stroke-width:2.5}
.bead,.foot{fill:var(--blue)}
.wedge{fill:var(--ink)}
summary{cursor:pointer;min-height:24px}
.heard{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}
.reason{position:sticky;bottom:0;background:var(--ground);max-height:45vh;overflow:auto}
.headline{font:700 1.75rem/1.2 Alegreya,Georgia,serif}
.sentence{font:400 1.3125rem/1.4 Alegreya,Georgia,serif}
footer{border-top:1.5px solid var(--clay-edge);padding:8px 0 16px}
[hidden]{display:none}
@media (max-width:699px){.headline{font-size:1.3125rem}.sentence{font-size:1.125rem}.reason{max-height:38vh}}
@media print{.listening,#ground{display:none}.reason{position:static}}
`
