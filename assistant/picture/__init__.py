"""What is known of engine and person, with its age and its witnesses. Pure; never written to."""
