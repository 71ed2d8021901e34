// The usual cautions of the work, said on the screen, on the job sheet and in the README. Makers, local rules and teachers come first.

export const CAUTIONS = {
  stopped: 'Stop the lathe before the jaws touch the work.',
  cutter: 'Keep hands, sleeves and tissue clear of the turning cutter; eyes and face covered.',
  glue: 'Thin cyanoacrylate: fumes, bonds skin, heats on paper and cotton. Cover your eyes, let air through.',
  dust: 'Sanding: wear a dust mask, lathe slow, paper held lightly.',
  byHand: 'Lathe stopped: screw the pair together by hand.',
  speed: "Never above the cutter's or the lathe maker's speed.",
  manuals: "Heed makers' manuals, local rules, competent teaching.",
} as const;
