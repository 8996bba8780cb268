package protocol

// Cautions returns the usual cautions of a maximal test with blood samples,
// one line each, to be shown wherever someone is told to do one. They are a
// reminder and no training: local rules and licensed practice come first.
//
// Sources: Fletcher GF et al. (2013) Circulation 128:873-934, exercise
// standards; WHO (2010) guidelines on drawing blood, and the warnings of the
// FDA and CDC (2010) that a shared finger-stick device passes on hepatitis B;
// the signs to stop at, the puncture and the pool are from memory of what
// guidelines and practice say.
func Cautions() []string {
	return []string{
		"An all-out swim is a maximal effort: be screened first (a questionnaire, a physician where it says so, a parent's consent for a minor), and do not test when ill.",
		"Stop at chest pain, dizziness, confusion, unusual breathlessness or wheeze, pallor, failing technique, or when the swimmer asks to.",
		"Never alone in the water: a lifeguard on duty, an easy way out, no breath-holding or hyperventilation before a swim; swim down afterwards.",
		"Blood: gloves, changed between swimmers; a sterile single-use lancet for every puncture, never a shared device; sharps into a sharps bin at once.",
		"Wash and dry the skin, since pool water and sweat dilute the drop; wipe the first drop off; do not squeeze hard; cover the puncture before the next repeat.",
		"Who may take blood, where and how: local rules and licensed practice decide. They come before anything printed here.",
	}
}
