// How the page looks: one page of A4 or US Letter, in black, with room for a pencil.
import { DRAWING_STYLE } from './svg.ts';

/** The page's size is the printer's; what is on it fits the width of A4 and the height of Letter, 10 mm inside their edges. */
export const STYLE = `@page{margin:10mm}
*{box-sizing:border-box;margin:0;padding:0}
html{background:#fff}
body{font:8pt/1.28 'DejaVu Sans',Verdana,sans-serif;color:#111;width:186mm;max-width:100%;margin:0 auto}
main{display:flex;flex-direction:column;gap:2.4mm;min-height:254mm}
h1{font-size:15pt;line-height:1.15;overflow-wrap:anywhere}h1.long{font-size:10.5pt}
body.long{font-size:7pt}.long main{gap:1.5mm}
h2{font-size:1em;border-bottom:.25mm solid #111;margin-bottom:.7mm}
h3{font-size:1em;font-weight:normal}
header{display:grid;grid-template-columns:1fr auto;column-gap:6mm;align-items:baseline}
header p{overflow-wrap:anywhere}header p:last-child{grid-column:1/-1}header .state{text-align:right;white-space:nowrap}
dl{display:grid;grid-template-columns:repeat(4,1fr);border:.4mm solid #111}
dl div{padding:.7mm 1.6mm;border-left:.15mm solid #111}dl div:first-child{border-left:0}
dt{font-size:7.5pt}dd{font-size:10.5pt;font-weight:bold;line-height:1.3;white-space:nowrap}
dd.under{font-size:7pt;font-weight:normal;white-space:normal;line-height:1.25}
.drawings{display:flex;gap:2mm;align-items:flex-start}.drawings p{flex:1;padding:4mm}
svg{display:block;flex:none}.hatches{position:absolute}
.two{display:grid;grid-template-columns:1fr 1fr;gap:2.6mm 6mm}
table{width:100%;border-collapse:collapse}
th{text-align:left;font-weight:normal;width:37mm;padding-right:2mm}td{font-weight:bold;overflow-wrap:anywhere}
th,td{padding:.25mm 0;border-bottom:.1mm solid #bbb;vertical-align:top}
.blank{font-size:7pt;font-weight:normal;color:#666}
.passes{display:grid;grid-template-columns:14mm 1fr;row-gap:1mm}
.passes ol{list-style:none;display:flex;flex-wrap:wrap;gap:.6mm 4mm}
.passes li{white-space:nowrap}
.passes li:not(.gap)::before{content:"";display:inline-block;width:2.6mm;height:2.6mm;border:.2mm solid #111;margin-right:1mm;vertical-align:-.3mm}
ol{padding-left:5mm}.passes ol{padding-left:0}li,p{overflow-wrap:anywhere}
.small{font-size:7pt;color:#333}
.notes{flex:1;min-height:9mm}
.cautions ul{columns:2;column-gap:6mm;padding-left:4mm;font-size:7pt}.cautions li{break-inside:avoid}
footer{display:flex;justify-content:space-between;align-items:center;gap:4mm;font-size:7pt}
@media screen{body{padding:8mm 0}}
${DRAWING_STYLE}`;
