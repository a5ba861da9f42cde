"""What is believed of one boiler: its water, its fire, what will come. No speech, file or clock."""
