"""What did the person write down? Rows of measurements, each mistake named by its line."""
