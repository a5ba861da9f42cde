"""What becomes of an utterance: costs, gates, decision. Knows no sound, no words to say."""
