// How it works, who can see what, and what to take care of.

export const about = {
  title: "How it works",
  seeTitle: "Who can see what",
  see: [
    "Your brews and notes of your own coffee: only your own devices.",
    "Your guess, brews and notes of a sealed sample: only your own devices, until its unsealing; then every member of the club.",
    "A sample's answer: its keeper, and those named as holding it, until its unsealing.",
    "The server, and whoever runs it: sealed envelopes, which device sends when and how much, and how many are in a club. No name, no cup, no guess, no answer.",
    "A keeper or holder with altered software could read guesses on their sample early. Nobody else can.",
  ],
  countTitle: "How a guess is counted",
  count: [
    "Before tasting, something is already likely: that is the blind guess. It is fixed when the flight begins, the same for everybody.",
    "A score says how many times a blind guess's chance you gave to the truth. ×4 is four times; ÷4 is a quarter.",
    "It counts on everything at once, level by level, so that one insight is never paid twice. Saying what you honestly think is the best you can do.",
    "A small part, two in a hundred, always stays with the blind guess, so no single miss is without bottom.",
    "Behind it stand bits: the binary logarithm of that factor. ×4 is two bits, ÷4 is minus two.",
    "No guess is ×1: missing an evening costs nothing. So does skipping a sample for your health.",
  ],
  careTitle: "Take care",
  care: [
    ["Hot water, steam, glass", "Water for coffee scalds. Press slowly, rinse thick glass warm first, and keep children away from a brewer that stands on a cup. Don't drink above 65 °C."],
    ["Caffeine", "For healthy adults 200 mg at once and 400 mg a day raise no concern (EFSA, 2015); in pregnancy 200 mg a day. 15 g of arabica hold 120 to 210 mg, of canephora up to 600 mg. Spit, don't swallow, as the trade does. Ask a doctor if you take medicine or have a heart condition."],
    ["Allergens", "Infused and co-fermented coffees can carry fruit, nuts, milk cultures or alcohol. Read what is declared before you open a bag, and think of a grinder that others use."],
    ["Minerals for water", "Only food-grade salts, dissolved as directed. Never drink a concentrate."],
    ["Your health comes first", "Skipping a sample costs nothing. Local food law and your doctor come before anything that Hushcup says."],
  ] as [string, string][],
  sealTitle: "What a seal is",
  seal: [
    "An answer or a guess is encrypted to its sample. Unsealing publishes the key that opens it, and every phone checks for itself that nothing was changed.",
    "Nothing that was sealed can be changed after the close, by anybody.",
  ],
  open: "Hushcup opens offline. What is saved is on this device first, and shared when there is a network.",
};
