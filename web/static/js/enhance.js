// enhance
